package placement

import (
	"fmt"
	"testing"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// BenchmarkStability reports which share of the containers moves, and how much
// more effort the plan takes than one that does not mind moves, when the plan
// before is today's layout and little changes: with moves free, priced, and with
// a limit of 10 containers.
func BenchmarkStability(b *testing.B) {
	for _, loops := range []int{60, 150} {
		was, added := planned(loops)
		for _, change := range changes(added) {
			for _, way := range replans() {
				b.Run(fmt.Sprintf("%d/%s/%s", loops, change.name, way.name), func(b *testing.B) { benchmarkReplan(b, was, change.of, way.set) })
			}
		}
	}
}

// planned is a cell with its own plan as today's layout, and a loop that is not
// in it yet.
func planned(loops int) (Input, sizing.Loop) {
	in := made(seeded(3), recipe{loops: loops + 1, racks: loops / 6, types: 3, stations: 5, levels: 3, width: 1500, containers: 10})
	added := in.Loops[loops/2]
	in.Loops = append(append([]sizing.Loop{}, in.Loops[:loops/2]...), in.Loops[loops/2+1:]...)
	return standing(in, placed(in, 1)), added
}

// change makes a small change to the loops of a plan, another one for each n.
type change struct {
	name string
	of   func(in Input, n int) []sizing.Loop
}

func changes(added sizing.Loop) []change {
	return []change{
		{"same", func(in Input, _ int) []sizing.Loop { return in.Loops }},
		{"one+10%", func(in Input, n int) []sizing.Loop { return grown(in, n%len(in.Loops)) }},
		{"5%+-20%", varied},
		{"one-gone", func(in Input, n int) []sizing.Loop {
			n %= len(in.Loops)
			return append(append([]sizing.Loop{}, in.Loops[:n]...), in.Loops[n+1:]...)
		}},
		{"one-new", func(in Input, n int) []sizing.Loop {
			l := added
			l.Containers = 1 + n%9
			return append(append([]sizing.Loop{}, in.Loops...), l)
		}},
	}
}

// grown makes loop i of an input a tenth larger, by a container at least.
func grown(in Input, i int) []sizing.Loop {
	loops := append([]sizing.Loop{}, in.Loops...)
	loops[i].Containers += max(1, loops[i].Containers/10)
	return loops
}

// varied makes every twentieth loop a fifth larger or smaller, in turn.
func varied(in Input, n int) []sizing.Loop {
	loops := append([]sizing.Loop{}, in.Loops...)
	for i := n % 20; i < len(loops); i += 20 {
		by := max(1, loops[i].Containers/5)
		if (i/20+n)%2 == 0 && loops[i].Containers > by {
			by = -by
		}
		loops[i].Containers += by
	}
	return loops
}

// wayBack is a way to plan again.
type wayBack struct {
	name string
	set  func(*Settings)
}

func replans() []wayBack {
	return []wayBack{
		{"free", func(s *Settings) { s.MovePrice = 0 }},
		{"priced", func(*Settings) {}},
		{"limited", func(s *Settings) { s.Limited, s.MoveLimit = true, 10 }},
	}
}

func benchmarkReplan(b *testing.B, in Input, of func(Input, int) []sizing.Loop, set func(*Settings)) {
	moved, all := 0, 0
	effort, free, racks := 0.0, 0.0, 0.0
	for i := range b.N {
		now := in
		now.Loops = of(in, i)
		l := placedAs(now, set)
		moved += elsewhere(in.Index.Plant.Current, l)
		for _, loop := range now.Loops {
			all += loop.Containers
		}
		b.StopTimer()
		least := placedAs(now, func(s *Settings) { s.MovePrice = 0 })
		effort, free = effort+wholeEffort(l), free+wholeEffort(least)
		racks += float64(len(l.Racks) - len(least.Racks))
		b.StartTimer()
	}
	b.ReportMetric(100*float64(moved)/float64(all), "%moved")
	b.ReportMetric(100*(effort/free-1), "%effort")
	b.ReportMetric(racks/float64(b.N), "racks")
}

// standing makes a layout today's, with the racks that it adds.
func standing(in Input, l Layout) Input {
	p := in.Index.Plant
	for _, r := range l.Racks {
		if r.Proposed {
			place := r.Place
			p.Racks = append(p.Racks, plant.Rack{Rack: r.Rack, RackType: r.Type.RackType, Cell: r.Cell, Place: &place})
		}
	}
	p.Current = todayOf(l)
	x := plant.NewIndex(p)
	return Input{Index: x, Loops: in.Loops, Racks: structure.Racks(x), Plant: in.Plant}
}
