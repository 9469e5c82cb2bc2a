package api

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
)

// PublicationStore keeps which plan the floor of a plant works to.
type PublicationStore interface {
	// Publish publishes a plan; created is false where it was asked for with the same
	// key before.
	Publish(ctx context.Context, n archive.NewPublication) (p archive.Publication, created bool, err error)
	// Publications lists those of a plant, the latest first, those before the given id.
	Publications(ctx context.Context, plant string, before int64, limit int) ([]archive.Publication, error)
}

// PublishRequest asks for a plan to be published.
type PublishRequest struct {
	WhoRequest
	Note   string   `json:"note,omitempty" maxLength:"2000" doc:"what is to be said about it"`
	Accept []string `json:"accept,omitempty" maxItems:"100" doc:"codes of the broken rules that are accepted; all that the plan breaks must be"`
}

// Publishing is how a publication is asked for.
type Publishing struct {
	Key    string `header:"Idempotency-Key" maxLength:"200" pattern:"^[ -~]*$" patternDescription:"printable ASCII" doc:"makes asking twice harmless: the first publication is answered again"`
	DryRun bool   `query:"dry_run" doc:"only say what it would change on the floor and which rules the plan breaks"`
}

type publishPlanInput struct {
	PlanInput
	Publishing
	Body PublishRequest
}

// publishPlan publishes a plan as it is.
func (s *server) publishPlan(ctx context.Context, in *publishPlanInput) (*output[wire.Publication], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	return s.publish(ctx, in.Publishing, in.Body, v.plan, archive.NewPublication{Plant: v.header.Plant, Plan: in.Plan})
}

type publishDraftInput struct {
	DraftInput
	Matching
	Publishing
	Body PublishRequest
}

// publishDraft makes a plan of a draft, as it was seen, and publishes it.
func (s *server) publishDraft(ctx context.Context, in *publishDraftInput) (*output[wire.Publication], error) {
	seen, err := in.version(in.Draft)
	if err != nil {
		return nil, err
	}
	made, err := s.planOfDraft(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	d := made.draft
	if d.Version != seen {
		return nil, stale(d, seen)
	}
	return s.publish(ctx, in.Publishing, in.Body, made.plan, archive.NewPublication{Plant: d.Plant, Edited: made.plan, Draft: d.ID, Version: d.Version})
}

// publish publishes a plan whose broken rules are all accepted.
func (s *server) publish(ctx context.Context, how Publishing, asked PublishRequest, p *planner.Plan, n archive.NewPublication) (*output[wire.Publication], error) {
	n.By, n.Note, n.Key = asked.By, asked.Note, how.Key
	broken := p.BrokenByHand()
	codes := codesOf(broken)
	for _, c := range codes {
		if slices.Contains(asked.Accept, c) {
			n.Accepted = append(n.Accepted, c)
		}
	}
	for range mergeTries {
		before, err := s.publishedPlan(ctx, n.Plant)
		if err != nil {
			return nil, err
		}
		var was *planner.Plan
		if before != nil {
			was, n.Before = before.plan, before.header.ID
		}
		n.Changed = planner.ChangeOnFloor(was, p)
		if how.DryRun {
			out := wire.NewPublication(archive.Publication{
				Plant: n.Plant, Plan: n.Plan, Draft: n.Draft, Before: n.Before, By: n.By, Note: n.Note, Created: s.clock(), Accepted: n.Accepted, Changed: n.Changed,
			})
			out.Broken = wire.NewFindings(broken)
			return current(out), nil
		}
		if len(n.Accepted) < len(codes) {
			return nil, notAccepted(codes, n.Accepted, broken)
		}
		made, _, err := s.store.Publish(ctx, n)
		if errors.Is(err, archive.ErrStale) && n.Edited == nil {
			continue
		}
		if err != nil {
			return nil, s.publishProblem(ctx, n, err)
		}
		out := wire.NewPublication(made)
		out.Broken = wire.NewFindings(broken)
		return current(out), nil
	}
	return nil, problem(http.StatusServiceUnavailable, "Others publish plans of this plant at this very moment; try again.")
}

// publishProblem says of a draft that somebody changed at the last moment what was
// changed.
func (s *server) publishProblem(ctx context.Context, n archive.NewPublication, err error) error {
	if !errors.Is(err, archive.ErrStale) {
		return err
	}
	d, loadErr := s.store.Draft(ctx, n.Draft)
	if loadErr != nil {
		return loadErr
	}
	if d.Version != n.Version {
		return stale(d, n.Version)
	}
	return problem(http.StatusConflict, "Another plan was published at this very moment; look at what changes against it and publish again.")
}

// codesOf lists the codes of findings, each once.
func codesOf(list finding.List) []string {
	codes := map[string]bool{}
	for _, f := range list {
		codes[f.Code] = true
	}
	return slices.Sorted(maps.Keys(codes))
}

func notAccepted(codes, accepted []string, broken finding.List) *wire.Problem {
	p := problem(http.StatusConflict, "")
	for _, c := range codes {
		if !slices.Contains(accepted, c) {
			p.Accept = append(p.Accept, c)
		}
	}
	what := "a rule that was"
	if len(p.Accept) > 1 {
		what = fmt.Sprintf("%d rules that were", len(p.Accept))
	}
	p.Detail = fmt.Sprintf("The plan breaks %s not accepted. Mend the plan, or name the codes in accept; findings says what is broken.", what)
	for _, f := range broken {
		if slices.Contains(p.Accept, f.Code) {
			p.Findings = append(p.Findings, wire.NewFindings(finding.List{f})...)
		}
	}
	return p
}

// publishedPlan is the plan that the floor of a plant works to; nil where there is none.
func (s *server) publishedPlan(ctx context.Context, plant string) (*view, error) {
	list, err := s.store.Publications(ctx, plant, 0, 1)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	return s.planOf(ctx, list[0].Plan)
}

// getPublished answers with what the floor of a plant works to and worked to before.
func (s *server) getPublished(ctx context.Context, in *plantPage) (*output[wire.Published], error) {
	before, err := in.fromNumber()
	if err != nil {
		return nil, err
	}
	latest, err := s.store.Publications(ctx, in.Plant, 0, 1)
	if err != nil {
		return nil, err
	}
	list, err := s.store.Publications(ctx, in.Plant, before, in.Limit+1)
	if err != nil {
		return nil, err
	}
	out := wire.Published{Plant: in.Plant}
	out.Page = paged(list, in.Limit, wire.NewPublication, func(p archive.Publication) string { return strconv.FormatInt(p.ID, 10) })
	if len(latest) > 0 {
		now := wire.NewPublication(latest[0])
		out.Current = &now
	}
	return current(out), nil
}
