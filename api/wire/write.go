package wire

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"

	"lanewright/planner"
)

// WritePlan writes the plan document: a field to a line, and each element of a
// list on a line of its own, those of its proof too. The same plan gives the same bytes. It holds one
// element at a time as text, so that a large plan needs little memory.
func WritePlan(w io.Writer, p *planner.Plan) error { return NewPlan(p).Write(w) }

// Write writes the document as WritePlan does.
func (p *Plan) Write(w io.Writer) error {
	b := bufio.NewWriterSize(w, 1<<16)
	err := writeObject(b, reflect.ValueOf(p).Elem(), "\n")
	if err == nil {
		err = b.WriteByte('\n')
	}
	if err != nil {
		return fmt.Errorf("write plan document: %w", err)
	}
	if err := b.Flush(); err != nil {
		return fmt.Errorf("write plan document: %w", err)
	}
	return nil
}

// writeObject walks the fields of a struct, so that a field added to Plan can
// not be forgotten here. line begins a line as deep as the object stands.
func writeObject(w *bufio.Writer, object reflect.Value, line string) error {
	for i := range object.NumField() {
		name, _, _ := strings.Cut(object.Type().Field(i).Tag.Get("json"), ",")
		fmt.Fprintf(w, "%s%s  %q: ", opening(i, "{"), line, name)
		if err := writeField(w, object.Field(i), line+"  "); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	_, err := w.WriteString(line + "}")
	return err
}

// writeField writes a list element by element, a proof field by field and
// anything else at once.
func writeField(w *bufio.Writer, value reflect.Value, line string) error {
	switch {
	case value.Kind() == reflect.Pointer && !value.IsNil():
		return writeObject(w, value.Elem(), line)
	case value.Kind() != reflect.Slice:
		return writeValue(w, value)
	}
	if value.Len() == 0 {
		_, err := w.WriteString("[]")
		return err
	}
	for i := range value.Len() {
		fmt.Fprint(w, opening(i, "["), line, "  ")
		if err := writeValue(w, value.Index(i)); err != nil {
			return fmt.Errorf("element %d: %w", i, err)
		}
	}
	_, err := w.WriteString(line + "]")
	return err
}

func writeValue(w *bufio.Writer, value reflect.Value) error {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	if err := e.Encode(value.Interface()); err != nil {
		return err
	}
	_, err := w.Write(bytes.TrimRight(text.Bytes(), "\n"))
	return err
}

// opening is what stands before the i-th element.
func opening(i int, bracket string) string {
	if i == 0 {
		return bracket
	}
	return ","
}
