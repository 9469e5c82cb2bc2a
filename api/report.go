package api

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/importers/export"
)

const xlsx = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

// report sends the plant rack report. It carries the time of the plan, so that
// the same plan gives the same workbook.
func (s *server) report(ctx context.Context, in *PaperInput) (*huma.StreamResponse, error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	cells, err := v.chosen(in.Cells)
	if err != nil {
		return nil, err
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	name := fmt.Sprintf("rack-report-%s-plan-%d.xlsx", plainLetters(v.header.Plant), v.header.ID)
	return s.sendBook(v.tag, in.IfNoneMatch, name, func(w io.Writer) error {
		return export.Report(w, f.plant, v.plan, v.header.Created, cells...)
	})
}

// sendBook sends a workbook whole or not at all, unless the caller has it
// already.
func (s *server) sendBook(tag, known, name string, write func(io.Writer) error) (*huma.StreamResponse, error) {
	attached := `attachment; filename="` + name + `"`
	if matches(known, tag) {
		return s.send(tag, known, xlsx, attached, nil), nil
	}
	var book bytes.Buffer
	if err := write(&book); err != nil {
		return nil, fmt.Errorf("write %s: %w", name, err)
	}
	return s.send(tag, known, xlsx, attached, func(w io.Writer) error {
		_, err := book.WriteTo(w)
		return err
	}), nil
}

// plainLetters puts a hyphen for every sign that a file name should not have.
func plainLetters(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return '-'
	}, s)
}
