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
	containers     float64
	time, interval time.Duration
}

// lifts judges refilling and picking of each loop once for each level it lies
// on.
func lifts(x *plant.Index, loops []sizing.Loop, l placement.Layout, r routing.Plan, s ergonomics.Settings) finding.List {
	rounds := roundsOf(r)
	levels := levelsOf(l)
	byKey := make(map[demand.Key]*sizing.Loop, len(loops))
	for i := range loops {
		byKey[loops[i].Key] = &loops[i]
	}
	type spot struct {
		loop  demand.Key
		level surface
	}
	judged := map[spot]bool{}
	var list finding.List
	for _, lane := range l.Lanes {
		at := spot{lane.Loop, surface{lane.Rack, lane.Level}}
		if lane.Empty() || judged[at] {
			continue
		}
		judged[at] = true
		loop := byKey[lane.Loop]
		part := x.Parts[loop.Part]
		rd := rounds[served{lane.Loop, lane.Rack}]
		list = append(list, ergonomics.Judge(ergonomics.Task{
			Subject: finding.Subject{
				Part: string(loop.Part), Cell: string(loop.Cell), Station: string(loop.Station),
				Container: string(loop.Container), Rack: string(lane.Rack), Level: lane.Level,
			},
			Origin: part.Origin, Container: *x.Containers[loop.Container], Side: lane.Side,
			Gross: loop.Gross, Piece: part.PieceMass, TwoHands: part.TwoHands,
			PickSurface: levels[at.level].pick, LoadSurface: levels[at.level].load,
			Rate: loop.Rate.Float64(), PerRound: rd.containers, Round: rd.time, Interval: rd.interval,
		}, s)...)
	}
	return list
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
				rounds[served{k, stop.Rack}] = round{route.LoadMean, route.Round, route.Interval}
			}
		}
	}
	return rounds
}

// surface names one level of one rack; heights are those of its two edges.
type surface struct {
	rack  plant.RackCode
	level int
}

type heights struct{ pick, load units.Length }

func levelsOf(l placement.Layout) map[surface]heights {
	levels := map[surface]heights{}
	for _, r := range l.Racks {
		for _, v := range r.Levels {
			levels[surface{r.Rack, v.Level.Level}] = heights{v.PickHeight, v.LoadHeight()}
		}
	}
	return levels
}
