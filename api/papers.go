package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/drawing"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// PaperInput asks for something printed from a plan.
type PaperInput struct {
	PlanInput
	Cells       []string `query:"cells,explode" maxItems:"2000" doc:"only these cells; given once for each"`
	IfNoneMatch string   `header:"If-None-Match" doc:"entity tag the caller has already"`

	// against is the tag of what the paper is compared with.
	against string
}

// chosen are the cells that are asked for; it refuses one that the plan does not have.
func (v *view) chosen(codes []string) ([]plant.CellCode, error) {
	var list []plant.CellCode
	for _, c := range codes {
		if _, err := v.cell(c); err != nil {
			return nil, err
		}
		list = append(list, plant.CellCode(c))
	}
	return list, nil
}

// printed sends what write makes of a plan's papers, unless the caller has it already.
// Write returns what the papers are short of; each sentence becomes a header
// Lanewright-Note. It is computed while the caller waits; no more than a few are at
// work at once.
func (s *server) printed(ctx context.Context, in PaperInput, what string, write func(io.Writer, drawing.Papers) ([]string, error)) (*huma.StreamResponse, error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	cells, err := v.chosen(in.Cells)
	if err != nil {
		return nil, err
	}
	name := fmt.Sprintf(`inline; filename="%s-%s-plan-%d.pdf"`, what, plainLetters(v.header.Plant), v.header.ID)
	tag := v.tag
	if in.against != "" {
		tag = hashed([]byte(v.tag + in.against))
	}
	if matches(in.IfNoneMatch, tag) {
		return s.send(tag, in.IfNoneMatch, pdf, name, nil), nil
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	select {
	case s.tracing <- struct{}{}:
		defer func() { <-s.tracing }()
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
	p := drawing.Papers{Facts: f.plant, Plan: v.plan, Name: fmt.Sprintf("plan %d, facts %.12s", v.header.ID, v.plan.Revision), Cells: cells}
	var paper bytes.Buffer
	notes, err := write(&paper, p)
	var many *drawing.TooManyError
	switch {
	case errors.As(err, &many):
		return nil, problem(http.StatusUnprocessableEntity, asSentence(many.Error()))
	case err != nil:
		return nil, fmt.Errorf("print %s of plan %d: %w", what, in.Plan, err)
	}
	answer := s.send(tag, in.IfNoneMatch, pdf, name, func(w io.Writer) error {
		_, err := paper.WriteTo(w)
		return err
	})
	return &huma.StreamResponse{Body: func(ctx huma.Context) {
		for _, n := range notes {
			ctx.AppendHeader("Lanewright-Note", n)
		}
		answer.Body(ctx)
	}}, nil
}

// printReport sends the plant rack report for printing.
func (s *server) printReport(ctx context.Context, in *reportInput) (*huma.StreamResponse, error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	since, err := s.olderPlan(ctx, v, in.Since)
	if err != nil {
		return nil, err
	}
	if since != nil {
		in.against = since.tag
	}
	return s.printed(ctx, in.PaperInput, "rack-report", func(w io.Writer, p drawing.Papers) ([]string, error) {
		var o drawing.ReportOptions
		if since != nil {
			o.Since = p.SinceOf(fmt.Sprintf("plan %d", since.header.ID), since.plan)
		}
		return nil, p.Report(ctx, w, o)
	})
}

type labelInput struct {
	PaperInput
	Kind  string   `query:"kind" enum:"lane,rack" default:"lane" doc:"a label for each lane, or for each rack"`
	Size  string   `query:"size" maxLength:"40" doc:"size of a label: 63.5x38.1, 99.1x38.1 or 99.1x67.7 (mm, on A4), 4x2in or 4x3.33in (on Letter), or page:WIDTHxHEIGHT for one on each page (mm, or inches as in page:4x3in); default by the plant's units"`
	Skip  int      `query:"skip" minimum:"0" maximum:"200" doc:"labels of the first sheet that are used already"`
	Racks []string `query:"racks,explode" maxItems:"5000" doc:"only these racks; given once for each"`
}

// printLabels sends sheets of labels.
func (s *server) printLabels(ctx context.Context, in *labelInput) (*huma.StreamResponse, error) {
	o := drawing.LabelOptions{Kind: drawing.LabelKind(in.Kind), Skip: in.Skip}
	if in.Size != "" {
		var err error
		if o.Sheet, err = drawing.ParseLabelSheet(in.Size); err != nil {
			return nil, problem(http.StatusUnprocessableEntity, asSentence(err.Error()))
		}
	}
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	for _, r := range in.Racks {
		if _, known := v.home[r]; !known {
			return nil, missing("rack", r)
		}
		o.Racks = append(o.Racks, plant.RackCode(r))
	}
	return s.printed(ctx, in.PaperInput, in.Kind+"-labels", func(w io.Writer, p drawing.Papers) ([]string, error) {
		if in.Size == "" {
			o.Sheet = p.LabelSheet(o.Kind)
		}
		if o.Skip >= o.Sheet.PerSheet() {
			return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("Skip is %d; a sheet of %s has %d labels, so it is at most %d.", o.Skip, o.Sheet.Name, o.Sheet.PerSheet(), o.Sheet.PerSheet()-1))
		}
		return p.Labels(w, o)
	})
}

// printCards sends loop cards.
func (s *server) printCards(ctx context.Context, in *PaperInput) (*huma.StreamResponse, error) {
	return s.printed(ctx, *in, "loop-cards", func(w io.Writer, p drawing.Papers) ([]string, error) { return p.Cards(w) })
}

type buildSheetsInput struct {
	PaperInput
	Racks string `query:"racks" enum:"proposed,all" default:"proposed" doc:"the racks that the plan proposes, or those that stand too"`
}

// printBuildSheets sends the build sheets of several racks, one after the other.
func (s *server) printBuildSheets(ctx context.Context, in *buildSheetsInput) (*huma.StreamResponse, error) {
	return s.printed(ctx, in.PaperInput, "build-sheets", func(w io.Writer, p drawing.Papers) ([]string, error) {
		meant := *p.Plan
		meant.Racks = filter(p.Plan.Racks, func(r structure.Rack) bool {
			return (r.Proposed || in.Racks == "all") && (len(p.Cells) == 0 || slices.Contains(p.Cells, r.Cell))
		})
		racks, err := drawing.All(ctx, p.Facts, &meant, p.Name, 1)
		switch {
		case err != nil:
			return nil, err
		case len(racks) == 0 && in.Racks == "all":
			return nil, problem(http.StatusNotFound, "No rack of these cells can be drawn.")
		case len(racks) == 0:
			return nil, problem(http.StatusNotFound, "The plan proposes no rack here. Ask with racks=all for the build sheets of those that stand.")
		}
		return nil, drawing.BuildSheets(w, racks...)
	})
}

// printRoutes sends route sheets of every route.
func (s *server) printRoutes(ctx context.Context, in *PaperInput) (*huma.StreamResponse, error) {
	return s.printed(ctx, *in, "route-sheets", func(w io.Writer, p drawing.Papers) ([]string, error) {
		err := p.RouteSheets(w)
		if errors.Is(err, drawing.ErrNoRoute) {
			err = problem(http.StatusNotFound, strings.TrimSpace("The plan has no route"+map[bool]string{true: " that stops in these cells"}[len(p.Cells) > 0])+".")
		}
		return nil, err
	})
}

type routeSheetInput struct {
	RouteInput
	IfNoneMatch string `header:"If-None-Match" doc:"entity tag the caller has already"`
}

// printRoute sends the sheets of one route.
func (s *server) printRoute(ctx context.Context, in *routeSheetInput) (*huma.StreamResponse, error) {
	ask := PaperInput{PlanInput: in.PlanInput, IfNoneMatch: in.IfNoneMatch}
	return s.printed(ctx, ask, "route-sheet-"+plainLetters(in.Route), func(w io.Writer, p drawing.Papers) ([]string, error) {
		err := p.RouteSheets(w, in.Route)
		if errors.Is(err, drawing.ErrNoRoute) {
			err = missing("route", in.Route)
		}
		return nil, err
	})
}
