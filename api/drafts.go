package api

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// DraftStore keeps the drafts of plans.
type DraftStore interface {
	// CreateDraft begins a draft; created is false where one with the same key was
	// asked for before.
	CreateDraft(ctx context.Context, n archive.NewDraft) (d archive.Draft, created bool, err error)
	// Drafts lists the drafts of a plan by id, those after the given one, without steps.
	Drafts(ctx context.Context, plan, after int64, limit int) ([]archive.Draft, error)
	// PlantDrafts lists the drafts of a plant with their steps, the latest first, those
	// before the given one.
	PlantDrafts(ctx context.Context, plant string, before int64, limit int) ([]archive.Draft, error)
	Draft(ctx context.Context, id int64) (archive.Draft, error)
	// AddStep takes a step, or answers with archive.ErrStale where the draft is not of
	// the version that it comes after.
	AddStep(ctx context.Context, id int64, n archive.NewStep) (archive.Draft, error)
	// RemoveDraft throws a draft away, or answers with archive.ErrStale where it is not of
	// the version that was seen.
	RemoveDraft(ctx context.Context, id int64, seen int) error
}

const (
	// draftsKept is how many drafts stay laid out in memory, each at one version.
	draftsKept = 16
	// mostEdits is how many edits may stand in a draft: each is made anew for an answer.
	mostEdits = 2000
	// mergeTries is how often a merge is tried while others take steps too.
	mergeTries = 5
)

// DraftInput names a draft in an address.
type DraftInput struct {
	Draft int64 `path:"draft" minimum:"1" doc:"id of the draft"`
}

// WhoRequest says who does something.
type WhoRequest struct {
	By string `json:"by" minLength:"1" maxLength:"100" pattern:"\\S" patternDescription:"a name" doc:"who does it: a name that people know"`
}

type newDraftInput struct {
	PlanInput
	Key  string `header:"Idempotency-Key" maxLength:"200" pattern:"^[ -~]*$" patternDescription:"printable ASCII" doc:"makes asking twice harmless: the first draft is answered again"`
	Body DraftRequest
}

// DraftRequest asks for a draft of a plan.
type DraftRequest struct {
	WhoRequest
	Name string `json:"name" minLength:"1" maxLength:"200" pattern:"\\S" patternDescription:"a name"`
}

// placed is an answer about something new that has an address.
type placed[T any] struct {
	ETag     string `header:"ETag"`
	Location string `header:"Location"`
	Body     T
}

func (s *server) createDraft(ctx context.Context, in *newDraftInput) (*placed[wire.Draft], error) {
	d, _, err := s.store.CreateDraft(ctx, archive.NewDraft{Plan: in.Plan, Name: in.Body.Name, By: in.Body.By, Key: in.Key})
	if err != nil {
		return nil, err
	}
	return &placed[wire.Draft]{ETag: draftTag(d), Location: fmt.Sprintf("/api/v1/drafts/%d", d.ID), Body: wire.NewDraft(d)}, nil
}

func (s *server) listDrafts(ctx context.Context, in *PlanPage) (*output[wire.Page[wire.DraftHeader]], error) {
	after, err := in.fromNumber()
	if err != nil {
		return nil, err
	}
	list, err := s.store.Drafts(ctx, in.Plan, after, in.Limit+1)
	if err != nil {
		return nil, err
	}
	return current(paged(list, in.Limit, wire.NewDraftHeader, func(d archive.Draft) string { return strconv.FormatInt(d.ID, 10) })), nil
}

func (s *server) getDraft(ctx context.Context, in *DraftInput) (*output[wire.Draft], error) {
	d, err := s.store.Draft(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	return tagged(draftTag(d), wire.NewDraft(d)), nil
}

type removeDraftInput struct {
	DraftInput
	Matching
}

// removeDraft throws a draft away as it was seen: nobody's later edits go with it.
func (s *server) removeDraft(ctx context.Context, in *removeDraftInput) (*struct{}, error) {
	seen, err := in.version(in.Draft)
	if err != nil {
		return nil, err
	}
	err = s.store.RemoveDraft(ctx, in.Draft, seen)
	if errors.Is(err, archive.ErrStale) {
		d, err := s.store.Draft(ctx, in.Draft)
		if err != nil {
			return nil, err
		}
		p := stale(d, seen)
		p.Detail = "Somebody changed the draft meanwhile, so it was not thrown away; since lists the steps. Look at it as it is now, and send its entity tag if it should go all the same."
		return nil, p
	}
	return nil, err
}

// draftTag is the entity tag of a draft, which edits send back in If-Match. Publishing
// is no step, but whoever asks again must learn of it.
func draftTag(d archive.Draft) string {
	tag := fmt.Sprintf("draft-%d-%d", d.ID, d.Version)
	if d.Published != 0 {
		tag += publishedTag
	}
	return `"` + tag + `"`
}

const publishedTag = "-published"

// Matching is what somebody saw last who wants to change something.
type Matching struct {
	IfMatch string `header:"If-Match" maxLength:"200" doc:"the entity tag of the draft as it was seen last; needed"`
}

// version reads the version of a draft out of the tag.
func (m Matching) version(id int64) (int, error) {
	tag := strings.TrimPrefix(strings.TrimSpace(m.IfMatch), "W/")
	if tag == "" {
		return 0, problem(http.StatusPreconditionRequired, "Send the entity tag of the draft as you saw it last in If-Match: others may be changing it too.")
	}
	tag = strings.TrimSuffix(strings.TrimSuffix(strings.Trim(tag, `"`), "-gzip"), publishedTag)
	text, ok := strings.CutPrefix(tag, fmt.Sprintf("draft-%d-", id))
	n, err := strconv.Atoi(text)
	if !ok || err != nil || n < 0 {
		p := problem(http.StatusUnprocessableEntity, sentences[http.StatusUnprocessableEntity])
		p.Errors = []wire.BadField{{Message: "not an entity tag of this draft", Location: "header.If-Match"}}
		return 0, p
	}
	return n, nil
}

// stale answers to somebody who saw an older version of a draft: with the steps that
// were taken since.
func stale(d archive.Draft, seen int) *wire.Problem {
	p := problem(http.StatusPreconditionFailed, "Somebody changed the draft meanwhile; since lists the steps. Send the edits again with merge, or look at the draft as it is now.")
	p.Version, p.Since = d.Version, wire.NewDraftSteps(d.Steps[min(seen, len(d.Steps)):])
	return p
}

type editInput struct {
	DraftInput
	Matching
	Key  string `header:"Idempotency-Key" maxLength:"200" pattern:"^[ -~]*$" patternDescription:"printable ASCII" doc:"makes asking twice harmless: the edits are made once"`
	Body EditDraftRequest
}

// EditDraftRequest asks for edits of a draft, as one step.
type EditDraftRequest struct {
	WhoRequest
	Edits []wire.EditRequest `json:"edits" minItems:"1" maxItems:"1000" doc:"made one after the other, and undone together"`
	Merge bool               `json:"merge,omitempty" doc:"where others changed the draft since the version in If-Match, make those edits all the same that touch no loop, lane or rack of theirs; the others are answered as conflicts"`
}

// editDraft makes edits of a draft. Nobody's edits are overwritten: what was seen must
// be what is there, or is merged.
func (s *server) editDraft(ctx context.Context, in *editInput) (*output[wire.MergedDraft], error) {
	seen, err := in.version(in.Draft)
	if err != nil {
		return nil, err
	}
	edits, err := editsOf(in.Body.Edits)
	if err != nil {
		return nil, err
	}
	for range mergeTries {
		d, err := s.store.Draft(ctx, in.Draft)
		if err != nil {
			return nil, err
		}
		step := archive.NewStep{After: d.Version, Kind: archive.MakeStep, By: in.Body.By, Edits: edits, Key: in.Key}
		if in.Key != "" && hasKey(d, in.Key) {
			return merged(d, nil), nil
		}
		if seen > d.Version || seen < d.Version && !in.Body.Merge {
			return nil, stale(d, seen)
		}
		if len(d.Edits())+len(edits) > mostEdits {
			return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("A draft has %d edits at most. Publish it and go on from its plan.", mostEdits))
		}
		var conflicts []wire.Conflict
		if seen < d.Version {
			if step.Edits, conflicts, err = s.merge(ctx, d, seen, edits); err != nil {
				return nil, err
			}
			if len(step.Edits) == 0 {
				return merged(d, conflicts), nil
			}
		}
		d, err = s.store.AddStep(ctx, in.Draft, step)
		if errors.Is(err, archive.ErrStale) {
			continue
		}
		if err != nil {
			return nil, err
		}
		return merged(d, conflicts), nil
	}
	return nil, problem(http.StatusServiceUnavailable, "Others change the draft at this very moment; try again.")
}

func hasKey(d archive.Draft, key string) bool {
	for _, s := range d.Steps {
		if s.Key == key {
			return true
		}
	}
	return false
}

func merged(d archive.Draft, conflicts []wire.Conflict) *output[wire.MergedDraft] {
	if conflicts == nil {
		conflicts = []wire.Conflict{}
	}
	return tagged(draftTag(d), wire.MergedDraft{Draft: wire.NewDraft(d), Conflicts: conflicts})
}

// merge sorts out which edits can be made on what others made of a draft since a version.
func (s *server) merge(ctx context.Context, d archive.Draft, seen int, mine []placement.Edit) ([]placement.Edit, []wire.Conflict, error) {
	v, err := s.planOf(ctx, d.Plan)
	if err != nil {
		return nil, nil, err
	}
	desk, err := v.desk()
	if err != nil {
		return nil, nil, err
	}
	gone, came := d.Since(seen)
	free, clashes := desk.Merge(d.At(seen).Edits(), archive.EditsOf(gone), archive.EditsOf(came), mine)
	conflicts := make([]wire.Conflict, len(clashes))
	for i, c := range clashes {
		conflicts[i] = wire.NewConflict(c, mine[c.Mine], gone, came)
	}
	return free, conflicts, nil
}

// editsOf converts requests, or says of each that is wrong what it lacks.
func editsOf(requests []wire.EditRequest) ([]placement.Edit, error) {
	edits := make([]placement.Edit, len(requests))
	bad := problem(http.StatusUnprocessableEntity, sentences[http.StatusUnprocessableEntity])
	for i, r := range requests {
		var err error
		if edits[i], err = r.Edit(); err != nil {
			bad.Errors = append(bad.Errors, wire.BadField{Message: err.Error(), Location: fmt.Sprintf("body.edits[%d]", i)})
		}
	}
	if len(bad.Errors) > 0 {
		return nil, bad
	}
	return edits, nil
}

type stepInput struct {
	DraftInput
	Matching
	Key  string `header:"Idempotency-Key" maxLength:"200" pattern:"^[ -~]*$" patternDescription:"printable ASCII" doc:"makes asking twice harmless: the step is taken once"`
	Body WhoRequest
}

func (s *server) undoEdit(ctx context.Context, in *stepInput) (*output[wire.Draft], error) {
	return s.step(ctx, in, archive.UndoStep)
}

func (s *server) redoEdit(ctx context.Context, in *stepInput) (*output[wire.Draft], error) {
	return s.step(ctx, in, archive.RedoStep)
}

// step takes the last step back, or makes it again.
func (s *server) step(ctx context.Context, in *stepInput, kind archive.StepKind) (*output[wire.Draft], error) {
	seen, err := in.version(in.Draft)
	if err != nil {
		return nil, err
	}
	d, err := s.store.Draft(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	if in.Key != "" && hasKey(d, in.Key) {
		return tagged(draftTag(d), wire.NewDraft(d)), nil
	}
	if d.Version != seen {
		return nil, stale(d, seen)
	}
	made, undone := d.Standing()
	switch {
	case kind == archive.UndoStep && len(made) == 0:
		return nil, problem(http.StatusConflict, "There is no edit that could be taken back.")
	case kind == archive.RedoStep && len(undone) == 0:
		return nil, problem(http.StatusConflict, "There is no edit that was taken back.")
	}
	d, err = s.store.AddStep(ctx, in.Draft, archive.NewStep{After: seen, Kind: kind, By: in.Body.By, Key: in.Key})
	if errors.Is(err, archive.ErrStale) {
		if d, err = s.store.Draft(ctx, in.Draft); err == nil {
			err = stale(d, seen)
		}
	}
	if err != nil {
		return nil, err
	}
	return tagged(draftTag(d), wire.NewDraft(d)), nil
}

// laidKey is a draft at a version: its edits never change.
type laidKey struct {
	draft   int64
	version int
}

// laidOf returns a draft, its plan's view and facts, and the plan as it is laid.
func (s *server) laidOf(ctx context.Context, id int64) (archive.Draft, *view, *planner.Laid, error) {
	d, err := s.store.Draft(ctx, id)
	if err != nil {
		return d, nil, nil, err
	}
	v, err := s.planOf(ctx, d.Plan)
	if err != nil {
		return d, nil, nil, err
	}
	laid, err := s.laid.get(ctx, laidKey{d.ID, d.Version}, func(context.Context, laidKey) (*planner.Laid, error) {
		desk, err := v.desk()
		if err != nil {
			return nil, err
		}
		return desk.After(d.Edits()), nil
	})
	return d, v, laid, err
}

type draftCellInput struct {
	DraftInput
	Cell string `path:"cell" maxLength:"200" doc:"code of the cell"`
}

// draftCell answers with a cell as the edits leave it.
func (s *server) draftCell(ctx context.Context, in *draftCellInput) (*output[wire.DraftCell], error) {
	d, v, laid, err := s.laidOf(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	c, ok := wire.NewDraftCell(f.plant, laid, d, plant.CellCode(in.Cell))
	if !ok {
		return nil, missing("cell", in.Cell)
	}
	return tagged(hashed(fmt.Append(nil, v.tag, d.ID, d.Version)), c), nil
}

// laidCell answers with a cell as the plan has it, in the shape of a draft's.
func (s *server) laidCell(ctx context.Context, in *CellInput) (*output[wire.DraftCell], error) {
	v, f, err := s.planAndFacts(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	desk, err := v.desk()
	if err != nil {
		return nil, err
	}
	c, ok := wire.NewDraftCell(f.plant, desk.AsIs(), archive.Draft{}, plant.CellCode(in.Cell))
	if !ok {
		return nil, missing("cell", in.Cell)
	}
	return tagged(hashed(fmt.Append(nil, "laid", v.tag)), c), nil
}

// draftChanges answers with what the edits of a draft change of its plan.
func (s *server) draftChanges(ctx context.Context, in *DraftInput) (*output[wire.EditedPlan], error) {
	d, v, laid, err := s.laidOf(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	return tagged(hashed(fmt.Append(nil, "changes", v.tag, d.ID, d.Version)), *wire.NewEditedPlan(laid.EditedPlan)), nil
}

type tryInput struct {
	DraftInput
	Body EditsRequest
}

// tryOnDraft says what edits more would make of a draft; nothing is stored.
func (s *server) tryOnDraft(ctx context.Context, in *tryInput) (*output[wire.TriedEdits], error) {
	edits, err := editsOf(in.Body.Edits)
	if err != nil {
		return nil, err
	}
	d, _, laid, err := s.laidOf(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	return current(wire.NewTriedEdits(d.Version, laid.Broken, laid.Try(edits))), nil
}

// MeantInput says which containers of a loop are meant, as an edit of kind move does.
type MeantInput struct {
	LoopInput
	FromRack   string `query:"from_rack" maxLength:"200" doc:"only the containers on this rack and level"`
	FromLevel  int    `query:"from_level" minimum:"0" maximum:"1000" doc:"level of from_rack"`
	Containers int    `query:"containers" minimum:"0" maximum:"100000" doc:"how many, those without a lane first; 0 is all"`
}

func (in *MeantInput) move() placement.MoveLoop {
	from := placement.Spot{Rack: plant.RackCode(in.FromRack), Level: in.FromLevel}
	return placement.MoveLoop{Loop: in.loop(), From: from, Containers: in.Containers}
}

type planFitsInput struct {
	PlanInput
	MeantInput
	Body *FitsRequest
}

// FitsRequest says what was edited before.
type FitsRequest struct {
	Edits []wire.EditRequest `json:"edits,omitempty" maxItems:"1000" doc:"edits of the plan that come before"`
}

// planFits says of every level of a loop's cell whether what is meant fits there.
func (s *server) planFits(ctx context.Context, in *planFitsInput) (*output[wire.Fits], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	var edits []placement.Edit
	if in.Body != nil {
		if edits, err = editsOf(in.Body.Edits); err != nil {
			return nil, err
		}
	}
	desk, err := v.desk()
	if err != nil {
		return nil, err
	}
	return fits(desk.After(edits), in.move())
}

type draftFitsInput struct {
	DraftInput
	MeantInput
}

func (s *server) draftFits(ctx context.Context, in *draftFitsInput) (*output[wire.Fits], error) {
	_, _, laid, err := s.laidOf(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	return fits(laid, in.move())
}

func fits(laid *planner.Laid, move placement.MoveLoop) (*output[wire.Fits], error) {
	k := move.Loop
	list, ok := laid.Fits(move)
	if !ok {
		return nil, missing("loop", fmt.Sprintf("%s, %s, %s", k.Part, k.Cell, k.Station))
	}
	return current(wire.NewFits(string(k.Part), string(k.Cell), string(k.Station), list)), nil
}
