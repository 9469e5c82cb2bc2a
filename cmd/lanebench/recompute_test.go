package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/cmd/lanebench/internal/recompute"
	"lanewright/cmd/lanebench/internal/scale"
	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/units"
	"lanewright/testdata/plants"
)

// planOf reads dir, plans it and returns the plan document.
func planOf(t *testing.T, dir string, threads int) []byte {
	t.Helper()
	read, err := importers.ReadFiles(context.Background(), dir)
	require.NoError(t, err)
	require.False(t, read.Findings.HasErrors(), "%+v", read.Findings)
	in := planner.Input{Plant: &read.Plant, Findings: read.Findings}
	plan, err := planner.Run(context.Background(), in, planner.DefaultSettings(in.Plant), planner.Options{Threads: threads})
	require.NoError(t, err)
	var document bytes.Buffer
	require.NoError(t, wire.WritePlan(&document, plan))
	return document.Bytes()
}

// agrees plans p twice and recomputes the plan from its sheets.
func agrees(t *testing.T, p *plant.Plant) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "plant")
	require.NoError(t, export.WriteFolder(dir, export.Workbook(p)))
	document := planOf(t, dir, 1)
	assert.True(t, bytes.Equal(document, planOf(t, dir, 2)), "two threads give the same bytes")
	wrong, err := recompute.Check(dir, document)
	require.NoError(t, err)
	for i, w := range wrong {
		if i == 20 {
			t.Errorf("and %d more", len(wrong)-i)
			break
		}
		t.Error(w)
	}
}

// TestPlansAgreeWithTheirSheets: plans of made-up plants of several seeds and
// sizes obey the rules when other code recomputes them from the sheets.
func TestPlansAgreeWithTheirSheets(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		cells, loops int
		seed         uint64
	}{{1, 1, 1}, {1, 12, 2}, {2, 60, 3}, {5, 150, 4}, {8, 320, 5}, {14, 450, 6}} {
		t.Run(fmt.Sprintf("%d cells, %d loops, seed %d", c.cells, c.loops, c.seed), func(t *testing.T) {
			t.Parallel()
			agrees(t, scale.Plant(c.cells, c.loops, c.seed))
		})
	}
	for seed := range uint64(4) {
		t.Run(fmt.Sprintf("a cell, seed %d", seed), func(t *testing.T) {
			t.Parallel()
			agrees(t, scale.Cell(40, seed))
		})
	}
}

// TestSkerrowAgrees does the same for the made-up plant that comes with the
// program, through its canonical form.
func TestSkerrowAgrees(t *testing.T) {
	t.Parallel()
	read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	require.False(t, read.Findings.HasErrors(), "%+v", read.Findings)
	agrees(t, &read.Plant)
}

// TestHarderPlantsAgree bends made-up plants towards what is rare in them:
// keep-apart groups, look-alikes, pins, fixed guides, low mass limits, fill
// limits, other models, a history, responses, service levels, shifts, containers
// that nest and racks with short return lanes or none.
func TestHarderPlantsAgree(t *testing.T) {
	t.Parallel()
	for seed := range uint64(12) {
		t.Run(fmt.Sprintf("seed %d", seed), func(t *testing.T) {
			t.Parallel()
			p := scale.Plant(2+int(seed%3), 60+10*int(seed), seed)
			bend(p, rand.New(rand.NewPCG(seed, 7)))
			agrees(t, p)
		})
	}
}

func bend(p *plant.Plant, rng *rand.Rand) {
	one := func(in int) bool { return rng.IntN(in) == 0 }
	p.Settings.FillLimit = units.R(int64(80+rng.IntN(21)), 100)
	p.Settings.ServiceLevel = units.R(int64(900+rng.IntN(99)), 1000)
	p.Settings.Safety = units.R(int64(rng.IntN(30)), 100)
	slices.Reverse(p.Shifts)
	for i := range p.Cells {
		p.Cells[i].Shifts = [][]plant.ShiftCode{nil, {"early"}, {"late"}, {"late", "early"}}[rng.IntN(4)]
	}
	p.Settings.GuideWidth = units.Length(rng.IntN(25)) * units.Millimetre
	if one(2) {
		p.Settings.Response = 45 * time.Minute
	}
	for i := range p.Parts {
		if one(4) {
			p.Parts[i].KeepApart = fmt.Sprintf("G%d", rng.IntN(4))
		}
		if one(6) && i > 0 {
			p.Parts[i].LookAlike = p.Parts[i-1].Part
		}
	}
	for i := range p.Containers {
		p.Containers[i].FlowSide = []plant.FlowSide{plant.LengthAlong, plant.WidthAlong, plant.EitherAlong}[rng.IntN(3)]
		p.Containers[i].Returnable = !one(4)
		p.Containers[i].Nests = units.R(int64(1+rng.IntN(4)), 4)
	}
	models := []plant.DemandModel{plant.SteadyModel, plant.NormalModel, plant.PoissonModel, plant.EmpiricalModel, plant.DefaultModel}
	p.History = pastOf(p, rng)
	for i := range p.Usage {
		if one(3) {
			p.Usage[i].Model = models[rng.IntN(len(models))]
		}
		if one(8) {
			p.Usage[i].Containers = 1 + rng.IntN(9)
		}
		if one(8) {
			p.Usage[i].Interval = p.Settings.IntervalChoices[rng.IntN(5)]
		}
	}
	for i := range p.Stations {
		p.Stations[i].WalkLimit = units.Length(2+rng.IntN(6)) * units.Metre
	}
	for i := range p.RackTypes {
		for j := range p.RackTypes[i].Levels {
			v := &p.RackTypes[i].Levels[j]
			v.MassLimit = units.Mass(40+rng.IntN(120)) * units.Kilogram
			if v.Kind != plant.Return {
				continue
			}
			v.LaneLength = units.Length(500+rng.IntN(900)) * units.Millimetre
			if one(6) {
				v.Kind, v.Drop = plant.Supply, -v.Drop
			}
		}
		p.RackTypes[i].MassLimit = p.RackTypes[i].OwnMass + units.Mass(100+rng.IntN(300))*units.Kilogram
	}
	fixGuides(p, rng)
	pinSome(p, rng)
}

// pastOf makes up what most products built and a few parts used day by day; some
// have too few days.
func pastOf(p *plant.Plant, rng *rand.Rand) []plant.History {
	var list []plant.History
	days := func(h plant.History, mean float64) {
		for i := range []int{12, 24, 24, 24, 31}[rng.IntN(5)] {
			h.Date = time.Date(2026, 9, 1+i, 0, 0, 0, 0, time.UTC)
			h.Units = units.Int(int64(mean * rng.ExpFloat64()))
			list = append(list, h)
		}
	}
	for _, x := range p.Products {
		days(plant.History{Product: x.Product}, x.UnitsPerDay.Float64())
	}
	for _, x := range p.Parts {
		if rng.IntN(6) == 0 {
			days(plant.History{Part: x.Part}, float64(x.Pack)*4)
		}
	}
	return list
}

// fixGuides fixes the guides of the lowest supply level of some racks.
func fixGuides(p *plant.Plant, rng *rand.Rand) {
	x := plant.NewIndex(p)
	for i := range p.Racks {
		if rng.IntN(4) != 0 {
			continue
		}
		for _, v := range x.RackTypes[p.Racks[i].RackType].Levels {
			if v.Kind != plant.Supply {
				continue
			}
			var widths []units.Length
			left := v.UsableWidth
			for {
				w := units.Length(220+rng.IntN(400)) * units.Millimetre
				if w > left {
					break
				}
				widths = append(widths, w)
				left -= w + p.Settings.GuideWidth
			}
			p.Racks[i].FixedLanes = []plant.FixedLanes{{Level: v.Level, Widths: widths}}
			break
		}
	}
}

// pinSome pins a few loops to racks that serve them.
func pinSome(p *plant.Plant, rng *rand.Rand) {
	p.Pins = nil
	seen := map[plant.PartCode]bool{}
	for _, u := range p.Usage {
		if rng.IntN(15) != 0 || seen[u.Part] {
			continue
		}
		seen[u.Part] = true
		for _, r := range p.Racks {
			if r.Cell == u.Cell && len(r.Stations) == 0 {
				p.Pins = append(p.Pins, plant.Pin{Part: u.Part, Station: u.Station, Rack: r.Rack, Reason: "kept by the cell"})
				break
			}
		}
	}
}

// TestRecomputeNotices spoils a plan in one place at a time: the second judge
// must object to each.
func TestRecomputeNotices(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "plant")
	require.NoError(t, export.WriteFolder(dir, export.Workbook(scale.Plant(3, 90, 5))))
	document := planOf(t, dir, 1)
	type object = map[string]any
	spoil := map[string]func(list []any){}
	number := func(list, field string, by float64) {
		spoil[list+" "+field] = func(l []any) {
			o := l[len(l)/2].(object)
			o[field] = o[field].(float64) + by
		}
	}
	for _, field := range []string{"pieces_per_hour", "interval_min", "response_min", "service_level", "mean_pieces", "covered_pieces", "containers", "lane_capacity", "lanes"} {
		number("loops", field, 1)
	}
	for _, field := range []string{"round_min", "travel_m", "busy", "load_mean", "load_planned", "mass_planned"} {
		number("routes", field, 0.01)
	}
	for _, field := range []string{"offset_mm", "width_mm", "containers", "capacity", "level"} {
		spoil["lanes "+field] = func(l []any) {
			for _, lane := range l {
				if o := lane.(object); o["part"] != "" {
					o[field] = o[field].(float64) - 1
					return
				}
			}
		}
	}
	spoil["racks x"] = func(l []any) {
		for _, r := range l {
			r.(object)["x"] = r.(object)["x"].(float64) + 90
		}
	}
	spoil["routes departures"] = func(l []any) {
		r := l[0].(object)
		r["departures"] = r["departures"].([]any)[1:]
	}
	spoil["routes all at once"] = func(l []any) {
		for _, r := range l {
			r.(object)["departures"] = l[0].(object)["departures"]
		}
	}
	spoil["routes stops"] = func(l []any) {
		r := l[0].(object)
		r["stops"] = r["stops"].([]any)[1:]
	}
	spoil["lanes of another loop"] = func(l []any) {
		at := slices.IndexFunc(l, func(x any) bool { return x.(object)["part"] != "" })
		l[at].(object)["station"] = "nowhere"
	}
	for name, change := range spoil {
		var d object
		require.NoError(t, json.Unmarshal(document, &d))
		list, _, _ := strings.Cut(name, " ")
		change(d[list].([]any))
		assert.NotEmpty(t, objections(t, dir, d), "%s was not noticed", name)
	}
}

// TestRecomputeNoticesEmpties spoils what a plan finds about return lanes.
func TestRecomputeNoticesEmpties(t *testing.T) {
	t.Parallel()
	p := scale.Plant(4, 110, 5)
	bend(p, rand.New(rand.NewPCG(5, 7)))
	dir := filepath.Join(t.TempDir(), "plant")
	require.NoError(t, export.WriteFolder(dir, export.Workbook(p)))
	document := planOf(t, dir, 1)
	type object = map[string]any
	const code = "empties.return-lanes-short"
	number := regexp.MustCompile(`\d+`)
	// another changes the numbers of a remedy: the interval, then the lanes.
	another := func(at int, by int) func(f object) {
		return func(f object) {
			n := -1
			f["remedy"] = number.ReplaceAllStringFunc(f["remedy"].(string), func(s string) string {
				if n++; n != at {
					return s
				}
				v, _ := strconv.Atoi(s)
				return strconv.Itoa(v + by)
			})
		}
	}
	for name, change := range map[string]func(f object){
		"not found":        func(f object) { f["code"] = "empties.forgotten" },
		"no level at all":  func(f object) { f["code"] = "empties.no-return-level" },
		"another rack":     func(f object) { f["subject"].(object)["rack"] = "C001-R99" },
		"needs more":       func(f object) { f["value"] = f["value"].(float64) + 300 },
		"needs less":       func(f object) { f["value"] = f["value"].(float64) - 20 },
		"has more":         func(f object) { f["limit"] = f["limit"].(float64) + 20 },
		"a minute longer":  another(0, 1),
		"a minute shorter": another(0, -1),
		"a lane more":      another(1, 1),
		"a lane less":      another(1, -1),
	} {
		var d object
		require.NoError(t, json.Unmarshal(document, &d))
		list := d["findings"].([]any)
		at := slices.IndexFunc(list, func(f any) bool {
			return f.(object)["code"] == code && len(number.FindAllString(f.(object)["remedy"].(string), -1)) == 2
		})
		require.GreaterOrEqual(t, at, 0, "the plan has a rack with short return lanes")
		change(list[at].(object))
		assert.NotEmpty(t, objections(t, dir, d), "%s was not noticed", name)
	}
	var d object
	require.NoError(t, json.Unmarshal(document, &d))
	for _, f := range d["findings"].([]any) {
		if f := f.(object); f["code"] == code {
			f["subject"].(object)["rack"] = d["racks"].([]any)[0].(object)["rack"]
		}
	}
	assert.NotEmpty(t, objections(t, dir, d), "findings of another rack were not noticed")
}

// TestRecomputeNoticesHistories spoils loops whose use comes from the history.
func TestRecomputeNoticesHistories(t *testing.T) {
	t.Parallel()
	p := scale.Plant(2, 60, 0)
	bend(p, rand.New(rand.NewPCG(0, 7)))
	dir := filepath.Join(t.TempDir(), "plant")
	require.NoError(t, export.WriteFolder(dir, export.Workbook(p)))
	document := planOf(t, dir, 1)
	type object = map[string]any
	for name, change := range map[string]func(l object){
		"model":      func(l object) { l["demand_model"] = "normal" },
		"covered":    func(l object) { l["covered_pieces"] = l["covered_pieces"].(float64) + 1 },
		"containers": func(l object) { l["containers"] = l["containers"].(float64) - 1 },
	} {
		var d object
		require.NoError(t, json.Unmarshal(document, &d))
		list := d["loops"].([]any)
		at := slices.IndexFunc(list, func(l any) bool { return l.(object)["demand_model"] == "empirical" })
		require.GreaterOrEqual(t, at, 0, "the plan has an empirical loop")
		change(list[at].(object))
		assert.NotEmpty(t, objections(t, dir, d), "%s was not noticed", name)
	}
}

// objections are what the second judge has against a plan document.
func objections(t *testing.T, dir string, document any) []string {
	t.Helper()
	data, err := json.Marshal(document)
	require.NoError(t, err)
	wrong, err := recompute.Check(dir, data)
	require.NoError(t, err)
	return wrong
}

// TestRecomputeNoticesOverlaps gives all routes of a plan to one handler.
func TestRecomputeNoticesOverlaps(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "plant")
	require.NoError(t, export.WriteFolder(dir, export.Workbook(scale.Plant(8, 320, 5))))
	var d map[string]any
	require.NoError(t, json.Unmarshal(planOf(t, dir, 1), &d))
	for _, r := range d["routes"].([]any) {
		r.(map[string]any)["handler"] = "H1"
	}
	assert.Regexp(t, "handler H1 in shift early is on routes A and [B-Z] from net minute ", strings.Join(objections(t, dir, d), "\n"))
}
