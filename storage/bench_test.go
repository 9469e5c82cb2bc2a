package storage_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
	"lanewright/storage/storagetest"
)

// scaleLoops is the size of the scale plant: 250 cells and 20,000 loops.
const scaleLoops = 20_000

// scalePlant returns facts of so many loops, as many parts and a rack for
// every eight.
func scalePlant(loops int) *plant.Plant {
	p := &plant.Plant{Name: "scale", Settings: plant.DefaultSettings()}
	for i := range loops {
		at := finding.Origin{File: "scale.xlsx", Sheet: "Parts", Row: i + 2}
		part, cell := plant.PartCode(fmt.Sprint("P", i)), plant.CellCode(fmt.Sprint("C", i/80))
		p.Parts = append(p.Parts, plant.Part{Part: part, Description: "a part of some length", Container: "KLT", Pack: 20, PieceMass: 100 * units.Gram, Origin: at})
		p.Usage = append(p.Usage, plant.Usage{Product: "X", Part: part, Cell: cell, Station: "S", PerUnit: units.R(3, 2), Origin: at})
		if i%8 == 0 {
			p.Racks = append(p.Racks, plant.Rack{Rack: plant.RackCode(fmt.Sprint("R", i)), RackType: "T", Cell: cell, Stations: []plant.StationCode{"S"}, Origin: at})
		}
	}
	return p
}

// scalePlan returns a plan of so many loops, two lanes each, a finding for
// every other one and a stop for every rack.
func scalePlan(hash string, loops int) *planner.Plan {
	p := &planner.Plan{Plant: "scale", Revision: hash, Version: planner.Version}
	p.Settings = planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})
	kind := &plant.RackType{RackType: "T", Levels: make([]plant.Level, 4)}
	route := routing.Route{Route: "A", Interval: time.Hour}
	for i := range loops {
		at := finding.Origin{File: "scale.xlsx", Sheet: "Usage", Row: i + 2}
		key := demand.Key{Part: plant.PartCode(fmt.Sprint("P", i)), Cell: plant.CellCode(fmt.Sprint("C", i/80)), Station: "S"}
		rate := units.R(int64(i+1), 1440)
		p.Loops = append(p.Loops, planner.Loop{Lanes: 2, Loop: sizing.Loop{Mean: rate, Covered: rate, Containers: 8, Loop: demand.Loop{
			Key: key, Pack: 20, Rate: rate, Day: units.Int(480), Origin: at, Sources: []demand.Source{{Product: "X", Rate: rate, Origin: at}}}}})
		rack := plant.RackCode(fmt.Sprint("R", i/8))
		for lane := range 2 {
			p.Lanes = append(p.Lanes, placement.Lane{Rack: rack, Level: 1, Lane: lane, Kind: plant.Supply, Loop: key, Capacity: 4, Containers: 4})
		}
		if i%2 == 0 {
			p.Findings = append(p.Findings, finding.Finding{Severity: finding.Warning, Code: "sizing.something", Summary: "a line that says what was found",
				Detail: "some words that say what was expected and why it matters", Remedy: "and how to repair it", Origin: at})
		}
		if i%8 == 0 {
			p.Racks = append(p.Racks, structure.Rack{Rack: rack, Type: kind, Cell: key.Cell, Levels: make([]structure.Level, 4)})
			route.Stops = append(route.Stops, routing.Stop{Rack: rack, Loops: []demand.Key{key}})
		}
	}
	p.Routes = []routing.Route{route}
	return p
}

func BenchmarkSaveRevision(b *testing.B) {
	db := storagetest.New(b)
	p := scalePlant(scaleLoops)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		_, _, err := db.SaveRevision(b.Context(), "scale", p, fmt.Sprint(i), nil, nil)
		require.NoError(b, err)
	}
}

func BenchmarkLoadPlant(b *testing.B) {
	db := storagetest.New(b)
	_, _, err := db.SaveRevision(b.Context(), "scale", scalePlant(scaleLoops), "h", nil, nil)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		_, _, _, err := db.LoadPlant(b.Context(), "scale", 0)
		require.NoError(b, err)
	}
}

func BenchmarkSavePlan(b *testing.B) {
	db := storagetest.New(b)
	_, _, err := db.SaveRevision(b.Context(), "scale", scalePlant(1), "h", nil, nil)
	require.NoError(b, err)
	p := scalePlan("h", scaleLoops)
	b.ReportAllocs()
	for b.Loop() {
		_, err := db.SavePlan(b.Context(), "scale", 0, p)
		require.NoError(b, err)
	}
}

func BenchmarkLoadPlan(b *testing.B) {
	db := storagetest.New(b)
	_, _, err := db.SaveRevision(b.Context(), "scale", scalePlant(1), "h", nil, nil)
	require.NoError(b, err)
	header, err := db.SavePlan(b.Context(), "scale", 0, scalePlan("h", scaleLoops))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		_, err := db.LoadPlan(b.Context(), header.ID)
		require.NoError(b, err)
	}
}

// scaleResult returns a play of the scale plan.
func scaleResult(p *planner.Plan) simulation.Result {
	r := simulation.Result{Settings: simulation.DefaultSettings()}
	for _, l := range p.Loops {
		r.Loops = append(r.Loops, simulation.LoopResult{Loop: l.Key, Verdict: simulation.Proved, Cycles: 3200, Rate: 0.0025, FillRate: 1})
	}
	return r
}

func BenchmarkSaveSimulation(b *testing.B) {
	db := storagetest.New(b)
	_, _, err := db.SaveRevision(b.Context(), "scale", scalePlant(1), "h", nil, nil)
	require.NoError(b, err)
	p := scalePlan("h", scaleLoops)
	header, err := db.SavePlan(b.Context(), "scale", 0, p)
	require.NoError(b, err)
	r := scaleResult(p)
	b.ReportAllocs()
	for b.Loop() {
		_, err := db.SaveSimulation(b.Context(), header.ID, r)
		require.NoError(b, err)
	}
}

func BenchmarkLoadSimulation(b *testing.B) {
	db := storagetest.New(b)
	_, _, err := db.SaveRevision(b.Context(), "scale", scalePlant(1), "h", nil, nil)
	require.NoError(b, err)
	p := scalePlan("h", scaleLoops)
	header, err := db.SavePlan(b.Context(), "scale", 0, p)
	require.NoError(b, err)
	stored, err := db.SaveSimulation(b.Context(), header.ID, scaleResult(p))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		_, err := db.LoadSimulation(b.Context(), stored.ID)
		require.NoError(b, err)
	}
}
