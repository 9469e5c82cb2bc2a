package api

import (
	"context"
	"slices"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

type settingsInput struct {
	PlantInput
	Revision int `query:"revision" minimum:"0" maximum:"2147483647" doc:"number of the revision; 0 is the latest"`
}

// listSettings says what a plan of a plant can be asked with, and what counts
// where nothing is asked.
func (s *server) listSettings(ctx context.Context, in *settingsInput) (*output[wire.Settings], error) {
	rev, err := s.store.Revision(ctx, in.Plant, in.Revision)
	if err != nil {
		return nil, err
	}
	f, err := s.factsOf(ctx, in.Plant, rev.Number)
	if err != nil {
		return nil, err
	}
	usual := planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})
	return current(wire.NewSettings(f.plant.Name, rev.Number, planner.DefaultSettings(f.plant), usual)), nil
}

// changedSettings lists the keys of settings that differ from those that facts ask
// for by themselves.
func changedSettings(facts *plant.Plant, s planner.Settings) []string {
	own := planner.DefaultSettings(facts).Pairs()
	keys := []string{}
	for _, p := range s.Pairs() {
		if !slices.Contains(own, p) {
			keys = append(keys, p.Key)
		}
	}
	return keys
}
