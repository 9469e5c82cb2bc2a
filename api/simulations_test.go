package api_test

import (
	"context"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
)

const (
	playsPath = "/api/v1/plans/1/simulations"
	tracePath = "/api/v1/plans/1/trace?part=LE-105&cell=LENS&station=10"
)

func TestPlayPlan(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	for name, c := range map[string]struct {
		body string
		want map[string]string
	}{
		"nothing said": {``, map[string]string{}},
		"settings": {`{"settings":{"simulation_weeks":20,"simulation_use":"levelled","simulation_from":"2026-10-19"}}`,
			map[string]string{"simulation_weeks": "20", "simulation_use": "levelled", "simulation_from": "2026-10-19"}},
	} {
		w := call(t, h, "POST", playsPath, c.body, jsonBody)
		require.Equal(t, 202, w.Code, "%s: %s", name, w.Body)
		run := decode[wire.Run](t, w)
		assert.Equal(t, "/api/v1/runs/"+run.ID, w.Header().Get("Location"))
		assert.Equal(t, []any{"simulation", "queued", int64(1), int64(0), 1}, []any{run.Kind, run.State, run.Played, run.Plan, run.Revision})
		assert.Equal(t, c.want, run.Settings)
		kept, err := s.Run(t.Context(), run.ID)
		require.NoError(t, err)
		assert.Equal(t, archive.SimulationRun, kept.Kind)
	}
}

func TestAskingForAPlayTwice(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	ask := func(path, body string) *httptest.ResponseRecorder {
		return call(t, h, "POST", path, body, jsonBody, "Idempotency-Key: k1")
	}
	first, second := ask(playsPath, `{}`), ask(playsPath, `{}`)
	assert.Equal(t, 202, second.Code)
	assert.Equal(t, first.Header().Get("Location"), second.Header().Get("Location"))
	assert.Equal(t, 409, ask(playsPath, `{"settings":{"simulation_weeks":2}}`).Code)
	assert.Equal(t, 409, ask(plantPath+"/plans", `{}`).Code, "a key is for one thing")
}

// TestPlaysArePaged: a play that was stored later follows the proof.
func TestPlaysArePaged(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	r := apitest.Played(apitest.Plan())
	r.Settings.Weeks = 52
	stored, err := s.SaveSimulation(t.Context(), 1, *r)
	require.NoError(t, err)
	first := decode[wire.Page[wire.Simulation]](t, call(t, h, "GET", playsPath+"?limit=1", ""))
	require.Len(t, first.Items, 1)
	assert.True(t, first.Items[0].Proof)
	rest := decode[wire.Page[wire.Simulation]](t, call(t, h, "GET", playsPath+"?limit=1&cursor="+first.Next, ""))
	require.Len(t, rest.Items, 1)
	assert.Equal(t, []any{stored.ID, false, 52, 96_000.0}, []any{rest.Items[0].ID, rest.Items[0].Proof, rest.Items[0].Settings.Weeks, rest.Items[0].PlayedMin})
	assert.Empty(t, rest.Next)
}

// TestProofInBothPlaces: the plan document and the lists of its proof say the
// same.
func TestProofInBothPlaces(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	doc := decode[wire.Plan](t, call(t, h, "GET", "/api/v1/plans/1", ""))
	require.NotNil(t, doc.Proof)
	assert.Equal(t, doc.Proof.Loops, decode[wire.Page[wire.SimulatedLoop]](t, call(t, h, "GET", "/api/v1/simulations/1/loops", "")).Items)
	assert.Equal(t, doc.Proof.Routes, decode[wire.Page[wire.SimulatedRoute]](t, call(t, h, "GET", "/api/v1/simulations/1/routes", "")).Items)
	assert.Equal(t, doc.Proof.Racks, decode[wire.Page[wire.SimulatedRack]](t, call(t, h, "GET", "/api/v1/simulations/1/racks", "")).Items)
	assert.Len(t, doc.Loops, doc.Proof.Verdicts.Proved+doc.Proof.Verdicts.Short+doc.Proof.Verdicts.NotPlayed)
}

// TestTraceAsksForLittle: whatever the plan's settings say, a trace is one
// replication of few weeks.
func TestTraceAsksForLittle(t *testing.T) {
	t.Parallel()
	s := apitest.NewStore()
	facts, p := apitest.Facts(), apitest.Plan()
	_, _, err := s.SaveRevision(t.Context(), apitest.Name, facts, plant.Revision(facts), nil, nil)
	require.NoError(t, err)
	p.Settings.Simulation = simulation.Settings{Weeks: 520, WarmUp: 52, Replications: 1000, Use: simulation.UseRandom}
	_, err = s.SavePlan(t.Context(), apitest.Name, 1, p)
	require.NoError(t, err)
	var asked simulation.Settings
	at := -1
	h := api.New(api.Options{Store: s, Trace: func(ctx context.Context, facts *plant.Plant, p *planner.Plan, s simulation.Settings, k demand.Key, replication int) (simulation.Trace, error) {
		asked, at = s, replication
		return apitest.Trace(ctx, facts, p, s, k, replication)
	}})
	w := call(t, h, "GET", tracePath+"&weeks=2&replication=7", "")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	assert.Equal(t, simulation.Settings{Weeks: 2, WarmUp: 4, Replications: 1000, Use: simulation.UseRandom}, asked)
	assert.Equal(t, 6, at)
	got := decode[wire.Trace](t, w)
	assert.Equal(t, []any{7, 2, "LE-105"}, []any{got.Replication, got.Weeks, got.Part})
}

// TestTraceThatTakesLong is broken off with a sentence that says what to do.
func TestTraceThatTakesLong(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := api.New(api.Options{Store: apitest.Filled(t), Trace: func(ctx context.Context, _ *plant.Plant, _ *planner.Plan, _ simulation.Settings, _ demand.Key, _ int) (simulation.Trace, error) {
			<-ctx.Done()
			return simulation.Trace{}, ctx.Err()
		}})
		w := call(t, h, "GET", tracePath, "")
		assert.Equal(t, 503, w.Code)
		assert.Contains(t, w.Body.String(), "ask for fewer weeks")
	})
}

// TestTraceDrawn: the picture is that of a day on which the loop is played.
func TestTraceDrawn(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	draw := strings.Replace(tracePath, "/trace?", "/trace.svg?", 1)
	w := call(t, h, "GET", draw, "")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	assert.Equal(t, "image/svg+xml", w.Header().Get("Content-Type"))
	assert.Contains(t, w.Body.String(), "<svg")
	assert.Contains(t, w.Body.String(), "LE-105")
	w = call(t, h, "GET", draw+"&day=1999-01-01", "")
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Body.String(), "query.day")
}

// TestRoundsTold: a route and a rack are explained, what a round takes is what its stops
// get, and rounds have clock times.
func TestRoundsTold(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	const plan = "/api/v1/plans/1"
	told := decode[wire.Told](t, call(t, h, "GET", plan+"/routes/B/explanation", ""))
	assert.Equal(t, "Route B", told.Title)
	assert.NotEmpty(t, told.Sections)
	route := decode[wire.Route](t, call(t, h, "GET", plan+"/routes/B", ""))
	rack := decode[wire.Told](t, call(t, h, "GET", plan+"/racks/"+route.Stops[0].Rack+"/explanation", ""))
	assert.Equal(t, "Rack "+route.Stops[0].Rack, rack.Title)
	take := decode[wire.Take](t, call(t, h, "GET", plan+"/routes/B/take", ""))
	assert.Equal(t, "B", take.Route)
	rounds := decode[wire.Rounds](t, call(t, h, "GET", plan+"/routes/B/rounds?day=2026-10-26&days=2", ""))
	for _, r := range rounds.Rounds {
		assert.Len(t, r.Stops, len(route.Stops))
	}
	for _, path := range []string{"/routes/ZZ/explanation", "/routes/ZZ/take", "/routes/ZZ/rounds?day=2026-10-26", "/racks/none/explanation"} {
		assert.Equal(t, 404, call(t, h, "GET", plan+path, "").Code, path)
	}
	assert.Equal(t, 422, call(t, h, "GET", plan+"/routes/B/rounds?day=soon", "").Code)
}

// TestLoopExplained: the sentences are those of the plan that is asked about.
func TestLoopExplained(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	path := strings.Replace(tracePath, "/trace?", "/explanation?", 1)
	w := call(t, h, "GET", path, "")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	e := decode[wire.Explanation](t, w)
	assert.Equal(t, "LE-105", e.Part)
	assert.NotEmpty(t, e.Sections)
	assert.Equal(t, 404, call(t, h, "GET", strings.Replace(path, "LE-105", "none", 1), "").Code)
}
