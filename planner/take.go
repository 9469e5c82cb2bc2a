package planner

import (
	"cmp"
	"slices"
	"strings"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// Pick is one part that a round takes from the market.
type Pick struct {
	Part      plant.PartCode
	Container plant.ContainerCode
	// Address is where it lies in the market; empty where the sheet gives none.
	Address string
	// Containers are the mean of a round, the sum over Drops.
	Containers float64
	Drops      []Drop
}

// Drop is a lane that a round fills.
type Drop struct {
	// Stop is its number on the route, from 1.
	Stop    int
	Rack    plant.RackCode
	Level   int
	Lane    int
	Cell    plant.CellCode
	Station plant.StationCode
	// Containers are the mean of a round. The lanes of a loop are filled in
	// proportion to the containers in them.
	Containers float64
}

// Take lists what a round of a route takes from the market in the order in which it
// is picked: by market address, numbers in it by their value, parts without an address
// last; then by part. Drops are in the order of the stops. ok is false where the plan
// has no such route.
func Take(facts *plant.Plant, p *Plan, route string) (picks []Pick, ok bool) {
	return NewTaker(facts, p).Take(route)
}

// Taker knows what the rounds of a plan take; it is made once for many routes.
type Taker struct {
	index  *plant.Index
	plan   *Plan
	loops  map[demand.Key]*Loop
	lanes  map[berth][]placement.Lane
	placed map[demand.Key]int
}

// berth is a loop on one rack.
type berth struct {
	loop demand.Key
	rack plant.RackCode
}

// NewTaker looks a plan through.
func NewTaker(facts *plant.Plant, p *Plan) *Taker {
	t := &Taker{plant.NewIndex(facts), p, make(map[demand.Key]*Loop, len(p.Loops)), map[berth][]placement.Lane{}, map[demand.Key]int{}}
	for i := range p.Loops {
		t.loops[p.Loops[i].Key] = &p.Loops[i]
	}
	for _, l := range p.Lanes {
		if l.Containers > 0 {
			at := berth{l.Loop, l.Rack}
			t.lanes[at] = append(t.lanes[at], l)
			t.placed[l.Loop] += l.Containers
		}
	}
	return t
}

// Take is the function Take for one route.
func (t *Taker) Take(route string) (picks []Pick, ok bool) {
	at := slices.IndexFunc(t.plan.Routes, func(r routing.Route) bool { return r.Route == route })
	if at < 0 {
		return nil, false
	}
	return t.picks(&t.plan.Routes[at]), true
}

// picks lists what a round of r takes.
func (t *Taker) picks(r *routing.Route) []Pick {
	byPart := map[plant.PartCode]*Pick{}
	for i, s := range r.Stops {
		for _, key := range s.Loops {
			t.add(byPart, r, i+1, s.Rack, key)
		}
	}
	picks := make([]Pick, 0, len(byPart))
	for _, x := range byPart {
		picks = append(picks, *x)
	}
	slices.SortFunc(picks, func(a, b Pick) int {
		return cmp.Or(compareAddress(a.Address, b.Address), cmp.Compare(a.Part, b.Part))
	})
	return picks
}

// add adds what a loop takes at one stop, lane by lane.
func (t *Taker) add(picks map[plant.PartCode]*Pick, r *routing.Route, stop int, rack plant.RackCode, key demand.Key) {
	l := t.loops[key]
	if l == nil {
		return
	}
	pick := picks[key.Part]
	if pick == nil {
		pick = &Pick{Part: key.Part, Container: l.Container}
		if part := t.index.Parts[key.Part]; part != nil {
			pick.Address = part.MarketAddress
		}
		picks[key.Part] = pick
	}
	round := l.Rate.Float64() / float64(l.Pack) * r.Interval.Minutes()
	for _, lane := range t.lanes[berth{key, rack}] {
		n := round * float64(lane.Containers) / float64(t.placed[key])
		pick.Containers += n
		pick.Drops = append(pick.Drops, Drop{stop, rack, lane.Level, lane.Lane, key.Cell, key.Station, n})
	}
}

// compareAddress compares texts as people do: digits that follow one another are a
// number. The empty text comes last.
func compareAddress(a, b string) int {
	if a == "" || b == "" {
		return -cmp.Compare(len(a), len(b))
	}
	for a != "" && b != "" {
		x, y := leading(a), leading(b)
		a, b = a[len(x):], b[len(y):]
		numbers := digit(x[0]) && digit(y[0])
		if numbers {
			x, y = strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0")
			if c := cmp.Compare(len(x), len(y)); c != 0 {
				return c
			}
		}
		if c := cmp.Compare(x, y); c != 0 {
			return c
		}
	}
	return cmp.Compare(len(a), len(b))
}

// leading is the longest beginning of s that is all digits or all others.
func leading(s string) string {
	n := 1
	for n < len(s) && digit(s[n]) == digit(s[0]) {
		n++
	}
	return s[:n]
}

func digit(b byte) bool { return '0' <= b && b <= '9' }
