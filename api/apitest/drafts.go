package apitest

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"lanewright/planner/archive"
)

type draft struct {
	archive.Draft
	key string
}

// CreateDraft begins a draft of a plan.
func (s *Store) CreateDraft(ctx context.Context, n archive.NewDraft) (archive.Draft, bool, error) {
	p, err := s.Plan(ctx, n.Plan)
	if err != nil {
		return archive.Draft{}, false, err
	}
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return archive.Draft{}, false, err
	}
	for _, d := range s.drafts {
		if n.Key != "" && d.key == n.Key && d.Plan == n.Plan {
			if d.Name != n.Name || d.By != n.By {
				return archive.Draft{}, false, fmt.Errorf("create draft: %w", archive.ErrConflict)
			}
			return d.Draft, false, nil
		}
	}
	s.drafted++
	d := archive.Draft{ID: s.drafted, Plan: n.Plan, Plant: p.Plant, Name: n.Name, By: n.By, Created: s.now, Changed: s.now}
	s.drafts = append(s.drafts, &draft{d, n.Key})
	return d, true, nil
}

// Drafts lists the drafts of a plan by id.
func (s *Store) Drafts(ctx context.Context, plan, after int64, limit int) ([]archive.Draft, error) {
	if _, err := s.Plan(ctx, plan); err != nil {
		return nil, err
	}
	unlock, err := s.lock()
	defer unlock()
	var list []archive.Draft
	for _, d := range s.drafts {
		if d.Plan == plan && d.ID > after && len(list) < limit {
			header := d.Draft
			header.Steps = nil
			list = append(list, header)
		}
	}
	return list, err
}

// PlantDrafts lists the drafts of a plant with their steps, the latest first.
func (s *Store) PlantDrafts(ctx context.Context, plant string, before int64, limit int) ([]archive.Draft, error) {
	if _, err := s.Plant(ctx, plant); err != nil {
		return nil, err
	}
	unlock, err := s.lock()
	defer unlock()
	var list []archive.Draft
	for _, d := range slices.Backward(s.drafts) {
		if d.Plant == plant && (before == 0 || d.ID < before) && len(list) < limit {
			list = append(list, d.Draft)
		}
	}
	return list, err
}

// Draft returns a draft with its steps.
func (s *Store) Draft(_ context.Context, id int64) (archive.Draft, error) {
	unlock, err := s.lock()
	defer unlock()
	d, err := s.draft(id, err)
	if err != nil {
		return archive.Draft{}, err
	}
	return d.Draft, nil
}

func (s *Store) draft(id int64, err error) (*draft, error) {
	return one(s.drafts, err, "draft "+strconv.FormatInt(id, 10), func(d *draft) bool { return d.ID == id })
}

// AddStep takes a step of a draft.
func (s *Store) AddStep(_ context.Context, id int64, n archive.NewStep) (archive.Draft, error) {
	unlock, err := s.lock()
	defer unlock()
	d, err := s.draft(id, err)
	switch {
	case err != nil:
		return archive.Draft{}, err
	case n.Key != "" && slices.ContainsFunc(d.Steps, func(x archive.Step) bool { return x.Key == n.Key }):
		return d.Draft, nil
	case d.Published != 0:
		return archive.Draft{}, fmt.Errorf("draft %d: %w", id, archive.ErrConflict)
	case d.Version != n.After:
		return archive.Draft{}, fmt.Errorf("draft %d: %w", id, archive.ErrStale)
	}
	d.Version++
	d.Changed = s.now
	d.Steps = append(slices.Clip(d.Steps), archive.Step{Version: d.Version, Kind: n.Kind, By: n.By, Made: s.now, Edits: n.Edits, Key: n.Key})
	return d.Draft, nil
}

// RemoveDraft throws a draft away.
func (s *Store) RemoveDraft(_ context.Context, id int64, seen int) error {
	unlock, err := s.lock()
	defer unlock()
	d, err := s.draft(id, err)
	if err == nil && d.Published != 0 {
		err = fmt.Errorf("draft %d: %w", id, archive.ErrConflict)
	}
	if err == nil && d.Version != seen {
		err = fmt.Errorf("draft %d: %w", id, archive.ErrStale)
	}
	if err == nil {
		s.drafts = slices.DeleteFunc(s.drafts, func(o *draft) bool { return o == d })
	}
	return err
}

type publication struct {
	archive.Publication
	key string
}

// Publish publishes a plan.
func (s *Store) Publish(_ context.Context, n archive.NewPublication) (archive.Publication, bool, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return archive.Publication{}, false, err
	}
	now := int64(0)
	for _, p := range s.published {
		if p.Plant != n.Plant {
			continue
		}
		if n.Key != "" && p.key == n.Key {
			return p.Publication, false, nil
		}
		now = p.Plan
	}
	if now != n.Before {
		return archive.Publication{}, false, fmt.Errorf("publish: %w", archive.ErrStale)
	}
	if n.Edited != nil {
		d, err := s.draft(n.Draft, nil)
		switch {
		case err != nil:
			return archive.Publication{}, false, err
		case d.Published != 0:
			return archive.Publication{}, false, fmt.Errorf("publish: %w", archive.ErrConflict)
		case d.Version != n.Version:
			return archive.Publication{}, false, fmt.Errorf("publish: %w", archive.ErrStale)
		}
		from, err := s.plan(d.Plan, nil)
		if err != nil {
			return archive.Publication{}, false, err
		}
		n.Plan = s.savePlan(n.Plant, from.Revision, n.Edited).ID
		made := &s.plans[len(s.plans)-1]
		made.From, made.Draft = d.Plan, d.ID
		d.Published = n.Plan
	}
	p := archive.Publication{
		ID: int64(len(s.published) + 1), Plant: n.Plant, Plan: n.Plan, Draft: n.Draft, Before: n.Before, By: n.By, Note: n.Note,
		Created: s.now, Accepted: n.Accepted, Changed: n.Changed,
	}
	s.published = append(s.published, publication{p, n.Key})
	return p, true, nil
}

// Publications lists the publications of a plant, the latest first.
func (s *Store) Publications(ctx context.Context, name string, before int64, limit int) ([]archive.Publication, error) {
	if _, err := s.Plant(ctx, name); err != nil {
		return nil, err
	}
	unlock, err := s.lock()
	defer unlock()
	var list []archive.Publication
	for _, p := range slices.Backward(s.published) {
		if p.Plant == name && (before == 0 || p.ID < before) && len(list) < limit {
			list = append(list, p.Publication)
		}
	}
	return list, err
}
