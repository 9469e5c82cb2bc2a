package apitest

import (
	"context"
	"fmt"
	"slices"

	"lanewright/planner/archive"
)

type mapping struct {
	archive.Mapping
	plant string
}

// SaveMapping keeps a mapping in the place of an earlier one for its shape.
func (s *Store) SaveMapping(_ context.Context, plant, shape, text string) error {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return err
	}
	s.forget(plant, shape)
	s.mappings = append(s.mappings, mapping{archive.Mapping{Shape: shape, Text: text, Created: s.now}, plant})
	return nil
}

// forget removes a mapping and reports whether it was there.
func (s *Store) forget(plant, shape string) bool {
	had := len(s.mappings)
	s.mappings = slices.DeleteFunc(s.mappings, func(m mapping) bool { return m.plant == plant && m.Shape == shape })
	return len(s.mappings) < had
}

// Mappings lists the mappings of a plant, the latest first.
func (s *Store) Mappings(_ context.Context, plant string) ([]archive.Mapping, error) {
	unlock, err := s.lock()
	defer unlock()
	var list []archive.Mapping
	for _, m := range slices.Backward(s.mappings) {
		if m.plant == plant {
			list = append(list, m.Mapping)
		}
	}
	return list, err
}

// RemoveMapping forgets the mapping of a shape.
func (s *Store) RemoveMapping(_ context.Context, plant, shape string) error {
	unlock, err := s.lock()
	defer unlock()
	if err == nil && !s.forget(plant, shape) {
		err = fmt.Errorf("mapping %s: %w", shape, archive.ErrNotFound)
	}
	return err
}
