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
	name := disposition(v.header.Plant, v.header.ID)
	if matches(in.IfNoneMatch, v.tag) {
		return s.send(v.tag, in.IfNoneMatch, xlsx, name, nil), nil
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	var book bytes.Buffer
	if err := export.Report(&book, f.plant, v.plan, v.header.Created, cells...); err != nil {
		return nil, fmt.Errorf("write report of plan %d: %w", v.header.ID, err)
	}
	return s.send(v.tag, in.IfNoneMatch, xlsx, name, func(w io.Writer) error {
		_, err := book.WriteTo(w)
		return err
	}), nil
}

// disposition names the workbook in plain letters, whatever the plant is
// called.
func disposition(plant string, id int64) string {
	return fmt.Sprintf(`attachment; filename="rack-report-%s-plan-%d.xlsx"`, plainLetters(plant), id)
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
