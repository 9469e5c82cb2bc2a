package api

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// choicesTime is how long a caller is kept waiting for choices: each is a whole plan.
const choicesTime = 2 * time.Minute

type choicesInput struct {
	PlantInput
	Revision  int    `query:"revision" minimum:"0" maximum:"2147483647" doc:"number of the revision; 0 is the latest"`
	Intervals string `query:"intervals" maxLength:"200" doc:"refill intervals in minutes between commas; empty is the plant's interval choices"`
	Levels    string `query:"service_levels" maxLength:"200" doc:"service levels in percent between commas; empty is the plant's own"`
}

// listChoices makes a whole plan for each interval and service level and compares
// them, while the caller waits, as trade is tried.
func (s *server) listChoices(ctx context.Context, in *choicesInput) (*output[wire.Choices], error) {
	var grid planner.Grid
	p := problem(http.StatusUnprocessableEntity, sentences[http.StatusUnprocessableEntity])
	read := func(field, list, key string, take func(planner.Settings)) {
		for text := range strings.SplitSeq(list, ",") {
			set := planner.Settings{}
			if list == "" {
				break
			}
			if err := set.Set(key, text); err != nil {
				p.Errors = append(p.Errors, wire.BadField{Message: err.Error(), Location: "query." + field})
				continue
			}
			take(set)
		}
	}
	read("intervals", in.Intervals, "refill_interval_min", func(set planner.Settings) { grid.Intervals = append(grid.Intervals, set.Plant.Interval) })
	read("service_levels", in.Levels, "service_level", func(set planner.Settings) {
		grid.ServiceLevels = append(grid.ServiceLevels, set.Plant.ServiceLevel)
	})
	if len(p.Errors) > 0 {
		return nil, p
	}
	rev, err := s.store.Revision(ctx, in.Plant, in.Revision)
	if err != nil {
		return nil, err
	}
	f, err := s.factsOf(ctx, in.Plant, rev.Number)
	if err != nil {
		return nil, err
	}
	settings := planner.DefaultSettings(f.plant)
	if len(grid.ServiceLevels) > 0 && settings.Plant.Measure == plant.ServicePerYear {
		p.Errors = []wire.BadField{{Message: "the plant counts shortages in a year (service_measure), so service levels change nothing", Location: "query.service_levels"}}
		return nil, p
	}
	select {
	case s.tracing <- struct{}{}:
		defer func() { <-s.tracing }()
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
	limited, cancel := context.WithTimeout(ctx, choicesTime)
	defer cancel()
	list, err := planner.Choices(limited, planner.Input{Plant: f.plant}, settings, grid, planner.Options{Threads: 1})
	switch {
	case errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil:
		return nil, problem(http.StatusServiceUnavailable, fmt.Sprintf("Making all these plans takes longer than %s; ask for fewer intervals, or use the program's command choices, which has no such limit.", choicesTime))
	case err != nil:
		return nil, err
	}
	return current(*wire.NewChoices(f.plant.Name, rev.Hash, settings, list)), nil
}
