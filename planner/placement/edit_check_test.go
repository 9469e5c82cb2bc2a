package placement

import (
	"fmt"
	"maps"
	"math/big"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// wrongs lists, by code, rack and level and loop, the rules of section 5 that lanes
// made by hand break. It reads facts and lanes only and shares nothing with the
// code of edits.
func wrongs(in Input, e Edited, l Layout) []string {
	w := wrong{in: in, found: map[string]bool{}, loops: map[demand.Key]sizing.Loop{}}
	for _, s := range slices.Concat(in.Loops, e.Loops) {
		w.loops[s.Key] = s
	}
	pins := map[demand.Key][]plant.Pin{}
	for _, p := range e.Pins {
		for k := range w.loops {
			if k.Part == p.Part && (p.Station == "" || p.Station == k.Station) && !slices.Contains(pins[k], p) {
				pins[k] = append(pins[k], p)
			}
		}
	}
	closed := map[Spot]bool{}
	for _, s := range e.Closed {
		closed[s] = true
	}
	for i := range l.Racks {
		w.rack(&l.Racks[i], e.On(l).Lanes, closed)
	}
	w.keeps(e.On(l), l, e.Loops, pins)
	return slices.Sorted(maps.Keys(w.found))
}

type wrong struct {
	in    Input
	loops map[demand.Key]sizing.Loop
	found map[string]bool
}

func (w *wrong) say(code string, at Spot, k demand.Key) {
	w.found[fmt.Sprint(code, " ", at.Rack, " ", at.Level, " ", k.Part, " ", k.Station)] = true
}

func (w *wrong) rack(r *structure.Rack, lanes []Lane, closed map[Spot]bool) {
	total := units.Mass(0)
	today := map[plant.RackCode]bool{}
	for _, c := range w.in.Index.Plant.Current {
		today[c.Rack] = true
	}
	for _, v := range r.Levels {
		at := Spot{Rack: r.Rack, Level: v.Level.Level}
		limit := v.UsableWidth
		if r.Proposed || len(today) > 0 && !today[r.Rack] {
			limit = units.Length(v.UsableWidth.Ratio().Mul(w.in.Plant.FillLimit).Floor())
		}
		sum, edge := units.Mass(0), units.Length(0)
		var outermost, before demand.Key
		for _, l := range lanes {
			if l.Rack != r.Rack || l.Level != v.Level.Level {
				continue
			}
			if l.Empty() {
				before = demand.Key{}
				continue
			}
			sum += units.Mass(l.Containers) * w.loops[l.Loop].Gross
			if l.Offset+l.Width > limit {
				edge, outermost = l.Offset+l.Width, l.Loop
			}
			w.lane(r, v, l, at)
			if closed[Spot{l.Rack, l.Level, l.Lane}] {
				w.say(CodeEditClosed, at, l.Loop)
			}
			if b := (&breach{in: w.in}); before.Part != "" && b.apart(before.Part, l.Loop.Part) {
				w.say(CodeEditApart, at, l.Loop)
			}
			before = l.Loop
		}
		if here := slices.DeleteFunc(slices.Clone(lanes), func(l Lane) bool { return l.Rack != r.Rack || l.Level != v.Level.Level }); len(v.Fixed) > 0 && len(here) > len(v.Fixed) {
			edge, outermost = limit+1, here[len(here)-1].Loop
		}
		if edge > limit {
			w.say(CodeEditNoRoom, at, outermost)
		}
		if v.MassLimit > 0 && sum > v.MassLimit {
			w.say(CodeEditLevelMass, at, demand.Key{})
		}
		total += sum
	}
	if r.Type.MassLimit > 0 && total > 0 && total+r.Type.OwnMass > r.Type.MassLimit {
		w.say(CodeEditRackMass, Spot{Rack: r.Rack}, demand.Key{})
	}
}

func (w *wrong) lane(r *structure.Rack, v structure.Level, l Lane, at Spot) {
	c := w.in.Index.Containers[w.loops[l.Loop].Container]
	along, across := c.Length, c.Width
	if l.Side == plant.WidthAlong {
		along, across = across, along
	}
	if along > v.LaneLength {
		w.say(CodeEditTooLong, at, l.Loop)
	}
	if c.Height+w.in.Plant.HandClearance > v.ClearHeight {
		w.say(CodeEditTooTall, at, l.Loop)
	}
	if c.FlowSide != plant.EitherAlong && c.FlowSide != l.Side {
		w.say(CodeEditSide, at, l.Loop)
	}
	if l.Width < across+2*w.in.Plant.SideClearance {
		w.say(CodeEditNarrow, at, l.Loop)
	}
	st := w.in.Index.Stations[plant.StationKey{Cell: l.Loop.Cell, Station: l.Loop.Station}]
	if r.Cell != l.Loop.Cell || !slices.Contains(r.Stations, l.Loop.Station) {
		w.say(CodeEditNotServed, at, l.Loop)
	} else if st.Place != nil && r.Known {
		square := func(n units.Length) *big.Int { v := big.NewInt(int64(n)); return v.Mul(v, v) }
		if new(big.Int).Add(square(st.Place.X-r.Place.X), square(st.Place.Y-r.Place.Y)).Cmp(square(st.WalkLimit)) > 0 {
			w.say(CodeEditWalk, at, l.Loop)
		}
	}
}

// keeps: pins, and containers that lost their lane or whose loop has a new size.
func (w *wrong) keeps(now, was Layout, sized []sizing.Loop, pins map[demand.Key][]plant.Pin) {
	lanes, held, before := map[demand.Key][]Lane{}, map[demand.Key]int{}, map[demand.Key]int{}
	for _, l := range now.Lanes {
		if !l.Empty() {
			lanes[l.Loop] = append(lanes[l.Loop], l)
			held[l.Loop] += l.Containers
		}
	}
	for _, u := range was.Unplaced {
		before[u.Loop] = u.Containers
	}
	for k, s := range w.loops {
		n := s.Containers - held[k]
		resized := slices.ContainsFunc(sized, func(o sizing.Loop) bool { return o.Key == k })
		if n > before[k] || n > 0 && resized {
			w.found[fmt.Sprint(CodeEditUnplaced, " ", k.Part, " ", k.Station)] = true
		}
		for _, p := range pins[k] {
			good, numbered := true, p.Lane == 0 || len(lanes[k]) == 0
			for _, l := range lanes[k] {
				good = good && l.Rack == p.Rack && (p.Level == 0 || p.Level == l.Level)
				numbered = numbered || l.Lane == p.Lane
			}
			if !good || !numbered {
				w.say(CodeEditPin, Spot{Rack: p.Rack, Level: p.Level}, k)
			}
		}
		if limit := w.in.Index.Containers[s.Container].GrossLimit; resized && limit > 0 && s.Gross > limit {
			w.found[fmt.Sprint(CodeEditGrossLimit, " ", k.Part, " ", k.Station)] = true
		}
	}
}

// reported are the rules that edits say are broken, in the same words.
func reported(e Edited) []string {
	found := map[string]bool{}
	for _, f := range e.Broken {
		s := f.Subject
		switch f.Code {
		case CodeEditRefused:
		case CodeEditUnplaced, CodeEditGrossLimit:
			found[fmt.Sprint(f.Code, " ", s.Part, " ", s.Station)] = true
		default:
			found[fmt.Sprint(f.Code, " ", s.Rack, " ", s.Level, " ", s.Part, " ", s.Station)] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}
