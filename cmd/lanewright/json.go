package main

import (
	"encoding/json"
	"fmt"
)

// writeJSON prints one of the shapes of wire to standard output.
func (p *program) writeJSON(shape any) error {
	e := json.NewEncoder(p.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(shape); err != nil {
		return fmt.Errorf("print: %w", err)
	}
	return nil
}
