package api

import (
	"context"
	"fmt"
	"net/http"
	"slices"

	"lanewright/api/wire"
	"lanewright/planner/archive"
	"lanewright/planner/placement"
)

// OntoInput names a draft and another plan.
type OntoInput struct {
	DraftInput
	Other int64 `path:"other" minimum:"1" doc:"id of another plan of the same plant"`
}

// showCarried says what carrying a draft over to another plan would meet there.
func (s *server) showCarried(ctx context.Context, in *OntoInput) (*output[wire.Carried], error) {
	d, err := s.store.Draft(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	c, err := s.carried(ctx, d, in.Other)
	if err != nil {
		return nil, err
	}
	return current(*c), nil
}

type carryInput struct {
	OntoInput
	Matching
	Body CarryRequest
}

// CarryRequest asks for a draft to be carried over to another plan.
type CarryRequest struct {
	WhoRequest
	Take []int `json:"take,omitempty" maxItems:"2000" doc:"numbers of the edits in conflict that are made all the same; the others in conflict are left out"`
}

// carryDraft begins a draft of another plan with the edits of this one, each under the
// name of who made it. The draft itself stays as it is. Asked twice in the same words it
// answers with the same draft.
func (s *server) carryDraft(ctx context.Context, in *carryInput) (*placed[wire.Draft], error) {
	seen, err := in.version(in.Draft)
	if err != nil {
		return nil, err
	}
	d, err := s.store.Draft(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	if d.Version != seen {
		return nil, stale(d, seen)
	}
	c, err := s.carried(ctx, d, in.Other)
	if err != nil {
		return nil, err
	}
	key := hashed(fmt.Append(nil, "carried ", d.ID, d.Version, in.Other, in.Body.By, in.Body.Take))
	made, _, err := s.store.CreateDraft(ctx, archive.NewDraft{Plan: in.Other, Name: d.Name, By: in.Body.By, Key: key})
	if err != nil {
		return nil, err
	}
	n := 0
	steps, _ := d.Standing()
	for _, step := range steps {
		var kept []placement.Edit
		for _, e := range step.Edits {
			if c.Edits[n].Conflict == nil || slices.Contains(in.Body.Take, n) {
				kept = append(kept, e)
			}
			n++
		}
		if len(kept) == 0 {
			continue
		}
		made, err = s.store.AddStep(ctx, made.ID, archive.NewStep{
			After: made.Version, Kind: archive.MakeStep, By: step.By, Edits: kept, Key: fmt.Sprintf("carried step %d", step.Version),
		})
		if err != nil {
			return nil, err
		}
	}
	return &placed[wire.Draft]{ETag: draftTag(made), Location: fmt.Sprintf("/api/v1/drafts/%d", made.ID), Body: wire.NewDraft(made)}, nil
}

// carried sorts out which edits of a draft can be made of another plan as they are.
func (s *server) carried(ctx context.Context, d archive.Draft, onto int64) (*wire.Carried, error) {
	there, err := s.planOf(ctx, onto)
	if err != nil {
		return nil, err
	}
	if there.header.Plant != d.Plant || onto == d.Plan {
		return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("Name another plan of the plant %s: the draft is of its plan %d.", quote(d.Plant), d.Plan))
	}
	from, to, common, err := s.relation(ctx, d.Plan, onto)
	if err != nil {
		return nil, err
	}
	if common == 0 {
		return s.unrelated(ctx, d, there)
	}
	v, err := s.planOf(ctx, common)
	if err != nil {
		return nil, err
	}
	desk, err := v.desk()
	if err != nil {
		return nil, err
	}
	// Undoing runs from the end, and so do the plans that are left behind.
	gone, came := stepsOf(from), stepsOf(to)
	base := archive.EditsOf(gone)
	_, clashes := desk.Merge(base, base, archive.EditsOf(came), d.Edits())
	c := wire.NewCarried(d, onto, clashes, gone, came)
	for _, p := range from {
		c.Tell(p.plan, true, p.steps)
	}
	for _, p := range to {
		c.Tell(p.plan, false, p.steps)
	}
	return &c, nil
}

// unrelated compares the draft's plan with one to which no edits lead.
func (s *server) unrelated(ctx context.Context, d archive.Draft, there *view) (*wire.Carried, error) {
	v, err := s.planOf(ctx, d.Plan)
	if err != nil {
		return nil, err
	}
	desk, err := v.desk()
	if err != nil {
		return nil, err
	}
	_, clashes, differ := desk.Carry(there.plan, d.Edits())
	unnamed := slices.Clone(clashes)
	for i := range unnamed {
		unnamed[i].Theirs = -1
	}
	c := wire.NewCarried(d, there.header.ID, unnamed, nil, nil)
	c.Differ(clashes, differ)
	return &c, nil
}

// edited is a plan that was made by hand, and the steps that made it.
type edited struct {
	plan  int64
	steps []archive.Step
}

func stepsOf(list []edited) (steps []archive.Step) {
	for _, e := range list {
		steps = append(steps, e.steps...)
	}
	return steps
}

// relation finds the plan from which two others were made by hand, 0 where there is
// none, and the plans that lead to either, the oldest first.
func (s *server) relation(ctx context.Context, one, other int64) (toOne, toOther []edited, common int64, err error) {
	a, err := s.lineage(ctx, one)
	if err != nil {
		return nil, nil, 0, err
	}
	b, err := s.lineage(ctx, other)
	if err != nil {
		return nil, nil, 0, err
	}
	for i, p := range a {
		j := slices.IndexFunc(b, func(q archive.Plan) bool { return q.ID == p.ID })
		if j < 0 {
			continue
		}
		if toOne, err = s.madeBy(ctx, a[:i]); err != nil {
			return nil, nil, 0, err
		}
		toOther, err = s.madeBy(ctx, b[:j])
		return toOne, toOther, p.ID, err
	}
	return nil, nil, 0, nil
}

// lineage lists a plan and those that it was made from by hand, the latest first.
func (s *server) lineage(ctx context.Context, id int64) (list []archive.Plan, err error) {
	for id != 0 {
		p, err := s.store.Plan(ctx, id)
		if err != nil {
			return nil, err
		}
		list, id = append(list, p), p.From
	}
	return list, nil
}

// madeBy loads the steps of plans made by hand, given the latest first.
func (s *server) madeBy(ctx context.Context, plans []archive.Plan) (list []edited, err error) {
	for _, p := range slices.Backward(plans) {
		d, err := s.store.Draft(ctx, p.Draft)
		if err != nil {
			return nil, err
		}
		made, _ := d.Standing()
		list = append(list, edited{p.ID, made})
	}
	return list, nil
}
