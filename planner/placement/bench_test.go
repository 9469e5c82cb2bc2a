package placement

import (
	"context"
	"fmt"
	"testing"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// busyCell is a cell whose racks are about as full as share says (in percent).
func busyCell(loops, racks int) recipe {
	return recipe{loops: loops, racks: racks, types: 3, stations: max(2, loops/12), levels: 3, width: 1500, containers: 10, costs: 100, apart: 3, fixed: 3, today: 50}
}

func benchmarkCell(b *testing.B, r recipe) {
	in := made(seeded(1), r)
	var l Layout
	for b.Loop() {
		l = Place(context.Background(), in, DefaultSettings(), 1, 1, nil)
	}
	k := l.Bounds[0]
	b.ReportMetric(float64(k.Unplaced), "unplaced")
	b.ReportMetric(k.AddedCost, "cost")
	b.ReportMetric(k.AddedCostBound, "cost-bound")
	b.ReportMetric(k.Effort, "effort")
	b.ReportMetric(k.EffortBound, "effort-bound")
}

func BenchmarkCell60(b *testing.B)        { benchmarkCell(b, busyCell(60, 0)) }
func BenchmarkCell150(b *testing.B)       { benchmarkCell(b, busyCell(150, 0)) }
func BenchmarkCell300(b *testing.B)       { benchmarkCell(b, busyCell(300, 0)) }
func BenchmarkCell150Stands(b *testing.B) { benchmarkCell(b, busyCell(150, 34)) }

// manyCells joins made-up cells to one plant.
func manyCells(cells, loops, racks int) Input {
	whole := &plant.Plant{Settings: plant.DefaultSettings()}
	var all []sizing.Loop
	for i := range cells {
		code := plant.CellCode(fmt.Sprintf("C%03d", i))
		name := func(s string) string { return string(code) + "-" + s }
		in := made(seeded(uint64(i)), busyCell(loops, racks))
		p := in.Index.Plant
		for j := range p.Cells {
			p.Cells[j].Cell = code
			for _, t := range p.RackTypes {
				p.Cells[j].RackTypes = append(p.Cells[j].RackTypes, plant.RackTypeCode(name(string(t.RackType))))
			}
		}
		for j := range p.Stations {
			p.Stations[j].Cell = code
		}
		for j := range p.RackTypes {
			p.RackTypes[j].RackType = plant.RackTypeCode(name(string(p.RackTypes[j].RackType)))
		}
		for j := range p.Racks {
			p.Racks[j].Cell = code
			p.Racks[j].Rack = plant.RackCode(name(string(p.Racks[j].Rack)))
			p.Racks[j].RackType = plant.RackTypeCode(name(string(p.Racks[j].RackType)))
		}
		for j := range p.Current {
			p.Current[j].Rack = plant.RackCode(name(string(p.Current[j].Rack)))
			p.Current[j].Part = plant.PartCode(name(string(p.Current[j].Part)))
		}
		for j := range p.Containers {
			p.Containers[j].Container = plant.ContainerCode(name(string(p.Containers[j].Container)))
		}
		for j := range p.Parts {
			p.Parts[j].Part = plant.PartCode(name(string(p.Parts[j].Part)))
			p.Parts[j].Container = plant.ContainerCode(name(string(p.Parts[j].Container)))
			if p.Parts[j].LookAlike != "" {
				p.Parts[j].LookAlike = plant.PartCode(name(string(p.Parts[j].LookAlike)))
			}
		}
		for _, l := range in.Loops {
			l.Cell, l.Part, l.Container = code, plant.PartCode(name(string(l.Part))), plant.ContainerCode(name(string(l.Container)))
			all = append(all, l)
		}
		whole.Cells, whole.Stations, whole.RackTypes = append(whole.Cells, p.Cells...), append(whole.Stations, p.Stations...), append(whole.RackTypes, p.RackTypes...)
		whole.Racks, whole.Current = append(whole.Racks, p.Racks...), append(whole.Current, p.Current...)
		whole.Containers, whole.Parts = append(whole.Containers, p.Containers...), append(whole.Parts, p.Parts...)
	}
	x := plant.NewIndex(whole)
	return Input{Index: x, Loops: all, Racks: structure.Racks(x), Plant: whole.Settings}
}

func benchmarkPlant(b *testing.B, in Input) {
	var l Layout
	for b.Loop() {
		l = Place(context.Background(), in, DefaultSettings(), 1, 2, nil)
	}
	effort, bound, cost, least, unplaced := 0.0, 0.0, 0.0, 0.0, 0
	for _, k := range l.Bounds {
		effort += k.Effort
		bound += k.EffortBound
		cost += k.AddedCost
		least += k.AddedCostBound
		unplaced += k.Unplaced
	}
	b.ReportMetric(effort/bound, "effort/bound")
	b.ReportMetric(cost/least, "cost/bound")
	b.ReportMetric(float64(unplaced), "unplaced")
	b.ReportMetric(float64(len(l.Racks)-len(in.Racks)), "racks-added")
}

func BenchmarkPlant14x32(b *testing.B)  { benchmarkPlant(b, manyCells(14, 32, 5)) }
func BenchmarkPlant250x80(b *testing.B) { benchmarkPlant(b, manyCells(250, 80, 17)) }

// BenchmarkEdits150 makes three edits on a full cell of 150 loops.
func BenchmarkEdits150(b *testing.B) {
	in := made(seeded(1), busyCell(150, 34))
	l := Place(context.Background(), in, DefaultSettings(), 1, 2, nil)
	first, last := l.Lanes[0], l.Racks[len(l.Racks)-1]
	edits := []Edit{
		SwapLoops{in.Loops[3].Key, in.Loops[90].Key},
		MoveLoop{Loop: first.Loop, To: Spot{last.Rack, 1, 2}},
		ChangeInterval{in.Loops[40].Key, 20 * time.Minute},
	}
	for b.Loop() {
		Apply(in, DefaultSettings(), l, edits)
	}
}
