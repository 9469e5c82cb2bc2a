package planner

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// round is what the lifts of a loop depend on: the round that refills it.
type round struct {
	route          string
	containers     float64
	time, interval time.Duration
}

// lifts judges refilling and picking of each loop once for each level it lies
// on.
func lifts(tasks []ergonomics.Task, s ergonomics.Settings) finding.List {
	var list finding.List
	for _, t := range tasks {
		list = append(list, ergonomics.Judge(t, s)...)
	}
	return list
}

// work judges what people lift and reach for in a whole plan: each lane, the
// rounds and stations that lanes make up, and what one person lifts in a shift.
func work(x *plant.Index, loops []sizing.Loop, l placement.Layout, r routing.Plan, s ergonomics.Settings) finding.List {
	t := tasks(x, loops, l, r)
	list := append(lifts(t, s), ergonomics.JudgeJobs(t, s)...)
	list = append(list, ergonomics.JudgeReach(t)...)
	list = append(list, ergonomics.JudgeDays(handlerDays(x, t, r))...)
	return append(list, ergonomics.JudgeDays(stationDays(x, t))...)
}

// spot is a loop on a level.
type spot struct {
	loop  demand.Key
	level surface
}

// tasks lists what is lifted at each loop, once for each level it lies on, in the
// order of the lanes.
func tasks(x *plant.Index, loops []sizing.Loop, l placement.Layout, r routing.Plan) []ergonomics.Task {
	rounds, levels := roundsOf(r), levelsOf(l)
	byKey := make(map[demand.Key]*sizing.Loop, len(loops))
	for i := range loops {
		byKey[loops[i].Key] = &loops[i]
	}
	on, placed := map[spot]int{}, map[demand.Key]int{}
	var order []placement.Lane
	for _, lane := range l.Lanes {
		if lane.Empty() {
			continue
		}
		at := spot{lane.Loop, surface{lane.Rack, lane.Level}}
		if _, ok := on[at]; !ok {
			order = append(order, lane)
		}
		on[at] += lane.Containers
		placed[lane.Loop] += lane.Containers
	}
	list := make([]ergonomics.Task, len(order))
	for i, lane := range order {
		at := surface{lane.Rack, lane.Level}
		list[i] = task(x, byKey[lane.Loop], lane, levels[at], rounds[served{lane.Loop, lane.Rack}])
		list[i].Share = share(on[spot{lane.Loop, at}], placed[lane.Loop]).Float64()
	}
	return list
}

// task is what is lifted at a loop that has lanes on a level.
func task(x *plant.Index, loop *sizing.Loop, lane placement.Lane, at heights, rd round) ergonomics.Task {
	part := x.Parts[loop.Part]
	return ergonomics.Task{
		Subject: finding.Subject{
			Part: string(loop.Part), Cell: string(loop.Cell), Station: string(loop.Station),
			Container: string(loop.Container), Rack: string(lane.Rack), Level: lane.Level,
		},
		Origin: part.Origin, Container: *x.Containers[loop.Container], Side: lane.Side,
		Gross: loop.Gross, Piece: part.PieceMass, TwoHands: part.TwoHands,
		PickSurface: at.pick, LoadSurface: at.load, Clear: at.clear,
		Rate: loop.Rate.Float64(), Pack: loop.Pack,
		Route: rd.route, PerRound: rd.containers, Round: rd.time, Interval: rd.interval,
	}
}

// served names a loop on one of its racks.
type served struct {
	loop demand.Key
	rack plant.RackCode
}

func roundsOf(r routing.Plan) map[served]round {
	rounds := map[served]round{}
	for _, route := range r.Routes {
		for _, stop := range route.Stops {
			for _, k := range stop.Loops {
				rounds[served{k, stop.Rack}] = round{route.Route, route.LoadMean, route.Round, route.Interval}
			}
		}
	}
	return rounds
}

// surface names one level of one rack; heights are those of its two edges and
// what is clear above them.
type surface struct {
	rack  plant.RackCode
	level int
}

type heights struct{ pick, load, clear units.Length }

func levelsOf(l placement.Layout) map[surface]heights {
	levels := map[surface]heights{}
	for _, r := range l.Racks {
		for _, v := range r.Levels {
			levels[surface{r.Rack, v.Level.Level}] = heights{v.PickHeight, v.LoadHeight(), v.ClearHeight}
		}
	}
	return levels
}
