package apitest

import (
	"context"
	"slices"
	"time"

	"lanewright/planner/archive"
	"lanewright/planner/ticks"
)

// SaveTicks keeps ticks of one round unless one clashes.
func (s *Store) SaveTicks(_ context.Context, round ticks.RoundID, list []ticks.Tick) ([]ticks.Outcome, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return nil, err
	}
	kept, count := map[string]ticks.Tick{}, 0
	for _, t := range s.ticks {
		kept[t.ID] = t
		if t.Round == round {
			count++
		}
	}
	out := ticks.Judge(kept, count, list)
	if slices.Contains(out, ticks.Clashes) {
		return out, nil
	}
	for i, t := range list {
		if out[i] == ticks.Accepted {
			t.Received = s.now
			s.ticks = append(s.ticks, t)
		}
	}
	return out, nil
}

// Ticks lists the ticks of a round by the device's time, then id.
func (s *Store) Ticks(_ context.Context, round ticks.RoundID) ([]ticks.Tick, error) {
	return s.ticksOf(func(t ticks.Tick) bool { return t.Round == round })
}

// TicksOn lists the ticks on the rounds of a plant's day.
func (s *Store) TicksOn(ctx context.Context, plant string, day time.Time) ([]ticks.Tick, error) {
	plans, err := s.Plans(ctx, plant, 0, 1<<30)
	if err != nil {
		return nil, err
	}
	return s.ticksOf(func(t ticks.Tick) bool {
		return t.Round.Day.Equal(day) && slices.ContainsFunc(plans, func(p archive.Plan) bool { return p.ID == t.Round.Plan })
	})
}

func (s *Store) ticksOf(is func(ticks.Tick) bool) (list []ticks.Tick, err error) {
	unlock, err := s.lock()
	defer unlock()
	for _, t := range s.ticks {
		if is(t) {
			list = append(list, t)
		}
	}
	ticks.Sort(list)
	return list, err
}
