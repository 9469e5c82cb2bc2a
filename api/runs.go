package api

import (
	"context"
	"encoding/json"
	"errors"
	"maps"
	"net/http"
	"slices"
	"strconv"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/plant"
)

// RunStore keeps the runs that make plans and play them.
type RunStore interface {
	// CreateRun queues a run; created is false where one with the same key was
	// asked for before.
	CreateRun(ctx context.Context, n archive.NewRun) (run archive.Run, created bool, err error)
	Run(ctx context.Context, id string) (archive.Run, error)
	// Runs lists the runs of a plant in a fixed order, those after the given id.
	Runs(ctx context.Context, plant, after string, limit int) ([]archive.Run, error)
	// CancelRun asks a run to stop; one that has ended stays as it is.
	CancelRun(ctx context.Context, id string) (archive.Run, error)
	runWatcher
}

// RunInput names a run in an address.
type RunInput struct {
	Run string `path:"run" maxLength:"100" doc:"id of the run"`
}

type makePlanInput struct {
	PlantInput
	Key  string `header:"Idempotency-Key" maxLength:"200" pattern:"^[ -~]*$" patternDescription:"printable ASCII" doc:"makes asking twice harmless: the first run is answered again"`
	Body *PlanRequest
}

// PlanRequest asks for a plan; without one the latest revision is planned with
// the plant's own settings.
type PlanRequest struct {
	Revision int                `json:"revision,omitempty" minimum:"0" maximum:"2147483647" doc:"number of the revision; 0 is the latest"`
	Settings map[string]setting `json:"settings,omitempty" maxProperties:"100" doc:"settings that differ from the plant's own, as in the plan document"`
}

// setting is a value that may be written as text, number or yes/no; a number
// keeps its digits.
type setting string

// UnmarshalJSON reads any scalar.
func (v *setting) UnmarshalJSON(b []byte) error {
	var text string
	if err := json.Unmarshal(b, &text); err == nil {
		*v = setting(text)
		return nil
	}
	*v = setting(b)
	return nil
}

// Schema describes the value in the OpenAPI document.
func (setting) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{OneOf: []*huma.Schema{{Type: "string"}, {Type: "number"}, {Type: "boolean"}}}
}

type acceptedRun struct {
	Location string `header:"Location"`
	Body     wire.Run
}

// makePlan queues a run.
func (s *server) makePlan(ctx context.Context, in *makePlanInput) (*acceptedRun, error) {
	asked := PlanRequest{}
	if in.Body != nil {
		asked = *in.Body
	}
	settings := texts(asked.Settings)
	defaults := planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})
	if err := checkSettings(settings, defaults.Set); err != nil {
		return nil, err
	}
	return s.queue(ctx, archive.NewRun{Plant: in.Plant, Revision: asked.Revision, Settings: settings, Key: in.Key})
}

// texts turns settings into what a run keeps.
func texts(asked map[string]setting) map[string]string {
	settings := make(map[string]string, len(asked))
	for k, v := range asked {
		settings[k] = string(v)
	}
	return settings
}

// checkSettings names every setting that a run would refuse, as set does.
func checkSettings(settings map[string]string, set func(key, value string) error) error {
	p := problem(http.StatusUnprocessableEntity, sentences[http.StatusUnprocessableEntity])
	for _, key := range slices.Sorted(maps.Keys(settings)) {
		if err := set(key, settings[key]); err != nil {
			p.Errors = append(p.Errors, wire.BadField{Message: err.Error(), Location: "body.settings." + key})
		}
	}
	if len(p.Errors) == 0 {
		return nil
	}
	return p
}

func (s *server) listRuns(ctx context.Context, in *plantPage) (*output[wire.Page[wire.Run]], error) {
	after, err := in.from()
	if err != nil {
		return nil, err
	}
	list, err := s.store.Runs(ctx, in.Plant, after, in.Limit+1)
	if err != nil {
		return nil, err
	}
	return current(paged(list, in.Limit, wire.NewRun, func(r archive.Run) string { return r.ID })), nil
}

func (s *server) getRun(ctx context.Context, in *RunInput) (*output[wire.Run], error) {
	r, err := s.store.Run(ctx, in.Run)
	if err != nil {
		return nil, err
	}
	return current(wire.NewRun(r)), nil
}

// cancelRun asks a run to stop. A running one stops at its next progress, so
// the answer may still say running.
func (s *server) cancelRun(ctx context.Context, in *RunInput) (*output[wire.Run], error) {
	r, err := s.store.CancelRun(ctx, in.Run)
	if err != nil {
		return nil, err
	}
	return current(wire.NewRun(r)), nil
}

type watchInput struct {
	RunInput
	LastEventID string `header:"Last-Event-ID" doc:"sequence of the last event seen"`
}

// watchRun streams a run until it has ended.
func (s *server) watchRun(ctx context.Context, in *watchInput) (*huma.StreamResponse, error) {
	run, err := s.store.Run(ctx, in.Run)
	if err != nil {
		return nil, err
	}
	seen := int64(-1)
	if in.LastEventID != "" {
		if seen, err = strconv.ParseInt(in.LastEventID, 10, 64); err != nil {
			return nil, badEventID(err)
		}
	}
	return &huma.StreamResponse{Body: func(ctx huma.Context) {
		if err := s.stream(ctx, run, seen); err != nil && !errors.Is(err, context.Canceled) {
			s.log.WarnContext(ctx.Context(), "event stream ended", "run", run.ID, "error", err)
		}
	}}, nil
}

func badEventID(err error) error {
	p := problem(http.StatusUnprocessableEntity, sentences[http.StatusUnprocessableEntity])
	p.Errors = []wire.BadField{{Message: err.Error(), Location: "header.Last-Event-ID"}}
	return p
}
