package api

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/importers/export"
)

const xlsx = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

// report sends the plant rack report. It carries the time of the plan, so that
// the same plan gives the same workbook.
func (s *server) report(ctx context.Context, in *reportInput) (*huma.StreamResponse, error) {
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
	since, err := s.olderPlan(ctx, v, in.Since)
	if err != nil {
		return nil, err
	}
	var older *export.Since
	tag := v.tag
	if since != nil {
		older = &export.Since{Name: fmt.Sprintf("plan %d", since.header.ID), Plan: since.plan}
		tag = hashed([]byte(v.tag + since.tag))
	}
	name := fmt.Sprintf("rack-report-%s-plan-%d.xlsx", plainLetters(v.header.Plant), v.header.ID)
	return s.sendBook(tag, in.IfNoneMatch, name, func(w io.Writer) error {
		return export.Report(w, f.plant, v.plan, v.header.Created, older, cells...)
	})
}

type reportInput struct {
	PaperInput
	Since string `query:"since" pattern:"^(published|[0-9]{1,18})?$" patternDescription:"published, or the id of a plan" doc:"say what changed since this plan of the plant: its id, or published for the one that the floor works to; left out: nothing is compared"`
}

// olderPlan is the plan that a report is compared with; nil where it is compared with
// none, or nothing was published.
func (s *server) olderPlan(ctx context.Context, v *view, since string) (*view, error) {
	switch since {
	case "":
		return nil, nil
	case "published":
		return s.publishedPlan(ctx, v.header.Plant)
	}
	id, err := strconv.ParseInt(since, 10, 64)
	if err != nil {
		return nil, missing("plan", since)
	}
	older, err := s.planOf(ctx, id)
	if err == nil && older.header.Plant != v.header.Plant {
		return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("Plan %d is of the plant %q; a report compares plans of one plant.", id, older.header.Plant))
	}
	return older, err
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
