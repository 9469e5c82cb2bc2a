package api

import (
	"context"
	"net/http"

	"lanewright/api/wire"
	"lanewright/planner/archive"
)

// PlantStore lists plants.
type PlantStore interface {
	// Plants lists plants by name, those after the given one.
	Plants(ctx context.Context, after string, limit int) ([]archive.Plant, error)
	Plant(ctx context.Context, name string) (archive.Plant, error)
}

// PlantInput names a plant in an address. It is exported, like all that operations
// embed, because the description of the API is read from it by reflection.
type PlantInput struct {
	Plant string `path:"plant" minLength:"1" maxLength:"100" doc:"name of the plant"`
}

func (s *server) listPlants(ctx context.Context, in *PageInput) (*output[wire.Page[wire.Plant]], error) {
	after, err := in.from()
	if err != nil {
		return nil, err
	}
	list, err := s.store.Plants(ctx, after, in.Limit+1)
	if err != nil {
		return nil, err
	}
	return current(paged(list, in.Limit, wire.NewPlant, func(p archive.Plant) string { return p.Name })), nil
}

func (s *server) getPlant(ctx context.Context, in *PlantInput) (*output[wire.Plant], error) {
	p, err := s.store.Plant(ctx, in.Plant)
	if err != nil {
		return nil, err
	}
	return current(wire.NewPlant(p)), nil
}

// missing says that a plan has no such thing.
func missing(what, code string) error {
	return problem(http.StatusNotFound, "This plan has no "+what+" "+quote(code)+".")
}

func quote(s string) string { return "“" + s + "”" }
