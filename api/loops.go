package api

import (
	"context"
	"slices"
	"strings"

	"lanewright/api/wire"
)

// LoopFilter chooses loops; what is empty chooses all.
type LoopFilter struct {
	Part    string `query:"part" maxLength:"200" doc:"only this part"`
	Cell    string `query:"cell" maxLength:"200" doc:"only this cell"`
	Station string `query:"station" maxLength:"200" doc:"only this station"`
}

func (f LoopFilter) meets(part, cell, station string) bool {
	return is(f.Part, part) && is(f.Cell, cell) && is(f.Station, station)
}

type loopsInput struct {
	PlanPage
	LoopFilter
}

type foundLoopsInput struct {
	PlanPage
	LoopFilter
	Find string `query:"find" maxLength:"200" doc:"only loops whose part, station, cell or container has these letters, capital or not"`
}

// finds reports whether the code of something that a loop is about has letters.
func finds(letters string, l wire.Loop) bool {
	return letters == "" || slices.ContainsFunc([]string{l.Part, l.Station, l.Cell, l.Container}, func(code string) bool {
		return strings.Contains(strings.ToLower(code), letters)
	})
}

func (s *server) listLoops(ctx context.Context, in *foundLoopsInput) (*output[wire.Page[wire.Loop]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	letters := strings.ToLower(strings.TrimSpace(in.Find))
	return page(v, filter(v.doc.Loops, func(l wire.Loop) bool { return in.meets(l.Part, l.Cell, l.Station) && finds(letters, l) }), in.PageInput)
}

func (s *server) listUnplaced(ctx context.Context, in *loopsInput) (*output[wire.Page[wire.Unplaced]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	return page(v, filter(v.doc.Unplaced, func(u wire.Unplaced) bool { return in.meets(u.Part, u.Cell, u.Station) }), in.PageInput)
}

func (s *server) listMoves(ctx context.Context, in *loopsInput) (*output[wire.Page[wire.Move]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	return page(v, filter(v.doc.Moves, func(m wire.Move) bool { return in.meets(m.Part, m.Cell, m.Station) }), in.PageInput)
}
