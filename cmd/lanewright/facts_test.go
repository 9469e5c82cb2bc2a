package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
)

// TestCommandsThatReadFiles: every command that reads FILE... takes a mapping,
// and each that works with what the files say takes settings and may be told
// that rows with errors are no failure.
func TestCommandsThatReadFiles(t *testing.T) {
	t.Parallel()
	var seen []string
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		if strings.Contains(c.Use, "FILE...") {
			seen = append(seen, c.Name())
			want := []string{"mapping", "leave-out", "set"}
			switch c.Name() {
			case "check": // it judges the input and changes nothing
				want = want[:1]
			case "import": // settings belong to plans, not to facts
				want = want[:2]
			}
			for _, name := range want {
				assert.NotNil(t, c.Flags().Lookup(name), "%s has no --%s", c.CommandPath(), name)
			}
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk((&program{}).root())
	for _, name := range []string{"check", "plan", "simulate", "choices", "trade", "reliefs", "rack", "design", "draw", "build", "cell-model", "import", "explain"} {
		assert.True(t, slices.Contains(seen, name), "%s reads no FILE...", name)
	}
}
