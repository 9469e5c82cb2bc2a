package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"lanewright/api/wire"
	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/importers/mapping"
	"lanewright/planner/archive"
	"lanewright/planner/plant"
)

// MappingStore keeps what the columns of a plant's own sheets mean.
type MappingStore interface {
	// SaveMapping keeps a mapping in the place of an earlier one for its shape.
	SaveMapping(ctx context.Context, plant, shape, text string) error
	// Mappings lists the mappings of a plant, the latest first.
	Mappings(ctx context.Context, plant string) ([]archive.Mapping, error)
	RemoveMapping(ctx context.Context, plant, shape string) error
}

// mappingsFor is what is known about a file: the mapping that came with it,
// else those that the plant has. One with open questions serves for going on
// from only.
func (s *server) mappingsFor(ctx context.Context, in *FileInput, h handedIn, answered bool) (o importers.Options, err error) {
	if h.mapping != "" {
		o.Mapping, err = parseMapping(h.mapping, answered)
		return o, err
	}
	if in.Encoding != "" {
		o.Mapping, err = parseMapping("lanewright mapping 1\nencoding: "+in.Encoding, answered)
		return o, err
	}
	stored, err := s.store.Mappings(ctx, in.Plant)
	if err != nil {
		return o, err
	}
	for _, m := range stored {
		if known, err := mapping.Parse(m.Text); err == nil {
			o.Known = append(o.Known, known)
		}
	}
	return o, nil
}

func parseMapping(text string, answered bool) (*mapping.Mapping, error) {
	m, err := mapping.Parse(text)
	if err != nil {
		return nil, problem(http.StatusUnprocessableEntity, asSentence("the mapping can not be read: "+err.Error()))
	}
	if open := m.Questions(); answered && len(open) > 0 {
		return nil, problem(http.StatusUnprocessableEntity, "The mapping still asks: "+strings.Join(open, "; "))
	}
	return m, nil
}

// known is what is known about files, with the revision that they come onto
// and its number, base.
func (s *server) known(ctx context.Context, in *FileInput, h handedIn, onto int, answered bool) (o importers.Options, base int, err error) {
	o, err = s.mappingsFor(ctx, in, h, answered)
	if err != nil || onto == 0 {
		return o, 0, err
	}
	facts, _, rev, err := s.store.LoadPlant(ctx, in.Plant, max(onto, 0))
	if err != nil {
		return o, 0, err
	}
	var b bytes.Buffer
	if err := export.WriteZip(&b, export.Workbook(facts)); err != nil {
		return o, 0, err
	}
	o.Onto = &importers.Base{Name: fmt.Sprintf("revision %d", rev.Number), Data: b.Bytes()}
	return o, rev.Number, nil
}

// remember keeps the mapping that came with a file, under the shape of that
// file.
func (s *server) remember(ctx context.Context, plant string, o importers.Options, read *importers.Result) error {
	if o.Mapping == nil || read.Mapping == nil {
		return nil
	}
	return s.store.SaveMapping(ctx, plant, read.Mapping.Shape(), read.Mapping.Text())
}

// changes compares facts with the latest revision of a plant.
func (s *server) changes(ctx context.Context, name string, next *plant.Plant) (wire.Changes, error) {
	before, _, rev, err := s.store.LoadPlant(ctx, name, 0)
	if errors.Is(err, archive.ErrNotFound) {
		return wire.NewChanges(0, nil), nil
	}
	if err != nil {
		return wire.Changes{}, err
	}
	return wire.NewChanges(rev.Number, export.Compare(before, next)), nil
}

func (s *server) listMappings(ctx context.Context, in *PlantInput) (*output[[]wire.Mapping], error) {
	list, err := s.store.Mappings(ctx, in.Plant)
	if err != nil {
		return nil, err
	}
	out := make([]wire.Mapping, len(list))
	for i, m := range list {
		out[i] = wire.NewMapping(m)
	}
	return current(out), nil
}

type mappingInput struct {
	PlantInput
	Body wire.MappingText
}

// saveMapping keeps a mapping that a person has answered.
func (s *server) saveMapping(ctx context.Context, in *mappingInput) (*output[wire.Mapping], error) {
	if err := archive.CheckName(in.Plant); err != nil {
		return nil, badName(err)
	}
	m, err := parseMapping(in.Body.Text, true)
	if err != nil {
		return nil, err
	}
	if err := s.store.SaveMapping(ctx, in.Plant, m.Shape(), m.Text()); err != nil {
		return nil, err
	}
	list, err := s.store.Mappings(ctx, in.Plant)
	if err != nil {
		return nil, err
	}
	for _, kept := range list {
		if kept.Shape == m.Shape() {
			return current(wire.NewMapping(kept)), nil
		}
	}
	return nil, missing("mapping", m.Shape())
}

type shapeInput struct {
	PlantInput
	Shape string `path:"shape" maxLength:"64" doc:"shape of the mapping"`
}

func (s *server) removeMapping(ctx context.Context, in *shapeInput) (*struct{}, error) {
	return nil, s.store.RemoveMapping(ctx, in.Plant, in.Shape)
}
