package api_test

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestAnInchPlantReadsInches asks for all that is told in sentences of a crammed
// plant that measures in inches and pounds: no sentence names a millimetre or a
// kilogram, but in rates (kg/h), whose unit every field of effort has, and in pairs
// that name the pounds as well.
func TestAnInchPlantReadsInches(t *testing.T) {
	t.Parallel()
	facts := apitest.Facts()
	facts.Settings.LengthUnit, facts.Settings.MassUnit = "in", "lb"
	for _, r := range apitest.Plan().Racks {
		if facts.RackTypes == nil {
			facts.RackTypes = append(facts.RackTypes, *r.Type)
		}
		facts.Racks = append(facts.Racks, plant.Rack{Rack: r.Rack, RackType: r.Type.RackType, Cell: r.Cell})
	}
	facts.Containers = append(facts.Containers, plant.Container{
		Container: "tray 600 mm", Length: 600 * units.Millimetre, Width: 500 * units.Millimetre, Height: 400 * units.Millimetre,
		EmptyMass: 3 * units.Kilogram, Returnable: true, FlowSide: plant.EitherAlong, Handles: plant.FairHandles, Nests: units.Int(1),
	})
	facts.Parts[0].Container = "tray 600 mm"
	for i := range facts.Usage {
		facts.Usage[i].PerHour = facts.Usage[i].PerHour.Mul(units.Int(8))
	}
	plan, err := planner.Run(t.Context(), planner.Input{Plant: facts}, planner.DefaultSettings(facts), planner.Options{})
	require.NoError(t, err)
	require.NotEmpty(t, plan.Unplaced)
	s := apitest.NewStore()
	_, _, err = s.SaveRevision(context.Background(), facts.Name, facts, plant.Revision(facts), nil, nil)
	require.NoError(t, err)
	_, err = s.SavePlan(context.Background(), facts.Name, 1, plan)
	require.NoError(t, err)
	h := api.New(api.Options{Store: s, Version: "test", Trace: apitest.Trace})

	var paths []string
	for _, l := range plan.Loops {
		q := url.Values{"part": {string(l.Part)}, "cell": {string(l.Cell)}, "station": {string(l.Station)}}.Encode()
		paths = append(paths, "/why?"+q, "/explanation?"+q)
	}
	for _, c := range facts.Cells {
		cell := url.PathEscape(string(c.Cell))
		paths = append(paths, "/cells/"+cell, "/cells/"+cell+"/lanes", "/cells/"+cell+"/reliefs", "/findings?cell="+cell)
	}
	for _, r := range plan.Racks {
		paths = append(paths, "/racks/"+url.PathEscape(string(r.Rack)), "/racks/"+url.PathEscape(string(r.Rack))+"/explanation")
	}
	for _, r := range plan.Routes {
		paths = append(paths, "/routes/"+url.PathEscape(r.Route)+"/explanation")
	}
	paths = append(paths, "", "/summary", "/unplaced", "/findings", "/build", "/moves/steps")
	inches, laid := 0, make([]string, 0)
	for _, p := range paths {
		w := call(t, h, "GET", "/api/v1/plans/1"+p, "")
		require.Equal(t, http.StatusOK, w.Code, "%s: %s", p, w.Body)
		for _, text := range sentences(decode[any](t, w)) {
			inches += strings.Count(text, " in ")
			assert.NotRegexp(t, metric, strings.ReplaceAll(text, "tray 600 mm", ""), p)
		}
	}
	for _, u := range plan.Unplaced {
		body := fmt.Sprintf(`{"edits":[{"kind":"move","loop":{"part":%q,"cell":%q,"station":%q},"to":{"rack":%q,"level":2}}]}`, u.Loop.Part, u.Loop.Cell, u.Loop.Station, plan.Racks[0].Rack)
		w := call(t, h, "POST", "/api/v1/plans/1/edits", body, asJSON)
		require.Equal(t, http.StatusOK, w.Code, w.Body)
		laid = append(laid, sentences(decode[any](t, w))...)
	}
	for _, text := range laid {
		assert.NotRegexp(t, metric, strings.ReplaceAll(text, "tray 600 mm", ""), "edits")
	}
	assert.Positive(t, inches)
}

var metric = regexp.MustCompile(`[0-9] (mm|kg)( [^(]|[^/a-z ]|$)`)

// sentences are all texts of an answer.
func sentences(v any) (list []string) {
	switch v := v.(type) {
	case string:
		return []string{v}
	case []any:
		for _, one := range v {
			list = append(list, sentences(one)...)
		}
	case map[string]any:
		for _, one := range v {
			list = append(list, sentences(one)...)
		}
	}
	return list
}
