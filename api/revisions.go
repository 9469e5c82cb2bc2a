package api

import (
	"context"
	"fmt"
	"io"
	"strconv"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/wire"
	"lanewright/importers/export"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// RevisionStore keeps the facts of plants.
type RevisionStore interface {
	// SaveRevisionAfter stores the facts of a plant as the next revision after
	// the one of that number; created is false where its latest revision has the
	// same hash already. Where another one is the latest the error is
	// archive.ErrStale; archive.AnyRevision stands for whatever is there.
	SaveRevisionAfter(ctx context.Context, name string, after int, p *plant.Plant, hash string, sheets []archive.SheetCount, findings finding.List) (rev archive.Revision, created bool, err error)
	// Revisions lists the revisions of a plant by number, those after the given
	// one.
	Revisions(ctx context.Context, plant string, after, limit int) ([]archive.Revision, error)
	// Revision returns one revision, 0 for the latest.
	Revision(ctx context.Context, plant string, number int) (archive.Revision, error)
	// LoadPlant returns the facts of a revision, 0 for the latest, and the
	// findings they were stored with.
	LoadPlant(ctx context.Context, plant string, number int) (*plant.Plant, finding.List, archive.Revision, error)
}

// RevisionInput names a revision in an address.
type RevisionInput struct {
	PlantInput
	Number int `path:"number" minimum:"1" maximum:"2147483647" doc:"number of the revision"`
}

type plantPage struct {
	PlantInput
	PageInput
}

func (s *server) listRevisions(ctx context.Context, in *plantPage) (*output[wire.Page[wire.Revision]], error) {
	after, err := in.fromNumber()
	if err != nil {
		return nil, err
	}
	list, err := s.store.Revisions(ctx, in.Plant, int(after), in.Limit+1)
	if err != nil {
		return nil, err
	}
	return current(paged(list, in.Limit, wire.NewRevision, func(r archive.Revision) string { return strconv.Itoa(r.Number) })), nil
}

func (s *server) getRevision(ctx context.Context, in *RevisionInput) (*output[wire.Revision], error) {
	r, err := s.store.Revision(ctx, in.Plant, in.Number)
	if err != nil {
		return nil, err
	}
	return current(wire.NewRevision(r)), nil
}

// revisionChanges says what differs between a revision and the one before.
func (s *server) revisionChanges(ctx context.Context, in *RevisionInput) (*output[wire.Changes], error) {
	f, err := s.factsOf(ctx, in.Plant, in.Number)
	if err != nil {
		return nil, err
	}
	if in.Number == 1 {
		return current(wire.NewChanges(0, nil)), nil
	}
	before, err := s.factsOf(ctx, in.Plant, in.Number-1)
	if err != nil {
		return nil, err
	}
	return current(wire.NewChanges(before.revision.Number, export.Compare(before.plant, f.plant))), nil
}

type revisionBookInput struct {
	RevisionInput
	IfNoneMatch string `header:"If-None-Match" doc:"entity tag the caller has already"`
}

// revisionBook sends the facts of a revision as the workbook that gives them
// again when it is handed in.
func (s *server) revisionBook(ctx context.Context, in *revisionBookInput) (*huma.StreamResponse, error) {
	f, err := s.factsOf(ctx, in.Plant, in.Number)
	if err != nil {
		return nil, err
	}
	name := fmt.Sprintf("plant-%s-revision-%d.xlsx", plainLetters(in.Plant), in.Number)
	return s.sendBook(tagOf(f.revision.Hash+" "+s.version), in.IfNoneMatch, name, func(w io.Writer) error {
		return export.WriteXLSX(w, export.Workbook(f.plant))
	})
}

type revisionFindingsInput struct {
	RevisionInput
	PageInput
	FindingFilter
}

func (s *server) revisionFindings(ctx context.Context, in *revisionFindingsInput) (*output[findingPage], error) {
	f, err := s.factsOf(ctx, in.Plant, in.Number)
	if err != nil {
		return nil, err
	}
	page, err := in.page(f.findings, map[string]string{}, in.PageInput)
	if err != nil {
		return nil, err
	}
	return current(page), nil
}

// factsKey names the facts of a revision.
type factsKey struct {
	plant  string
	number int
}

// facts are a revision as it was imported.
type facts struct {
	plant    *plant.Plant
	findings finding.List
	revision archive.Revision
}

// factsOf returns the facts of a revision, which never change.
func (s *server) factsOf(ctx context.Context, name string, number int) (*facts, error) {
	return s.facts.get(ctx, factsKey{name, number}, func(ctx context.Context, k factsKey) (*facts, error) {
		p, list, rev, err := s.store.LoadPlant(ctx, k.plant, k.number)
		if err != nil {
			return nil, err
		}
		return &facts{p, list, rev}, nil
	})
}
