package cutting

import (
	"context"
	"fmt"

	"lanewright/planner/internal/packing"
	"lanewright/planner/internal/patterns"
)

// alike reports whether there is one source only, never used up and long enough
// for all: then stocks are bins.
func (k *kinds) alike() bool {
	return len(k.sources) == 1 && !limited(k.have[0]) && len(k.size) > 0 && k.sources[0].room >= k.size[0]
}

// pack cuts stocks that are alike.
func (s *solver) pack(ctx context.Context, o Options) error {
	k := s.k
	p := packing.Problem{Capacity: k.sources[0].room}
	for i, size := range k.size {
		p.Pieces = append(p.Pieces, packing.Piece{Size: size, Count: k.need[i]})
	}
	r, err := packing.Solve(ctx, p, packing.Options{Steps: o.Steps, Seed: o.Seed})
	if err != nil {
		return fmt.Errorf("cut stocks of one length: %w", err)
	}
	st := k.begin()
	for _, b := range r.Bins {
		counts := make([]int64, len(k.size))
		for _, part := range b.Parts {
			counts[part.Piece] += part.Count
		}
		k.cut(&st, cut{0, b.Times, patterns.Uses(counts, patterns.Every(len(counts)))})
	}
	s.best, s.bound = st, r.Bound*k.sources[0].cost
	s.m.Used = r.Steps
	s.m.Cancelled = ctx.Err() != nil
	return nil
}
