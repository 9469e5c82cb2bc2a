package planner

import (
	"cmp"
	"slices"
	"strings"

	"lanewright/planner/costing"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
)

// Comparison is what differs between two plans, the first one called before. They may
// be of different revisions, seeds or settings.
type Comparison struct {
	// Totals are what the plans come to, in a fixed order.
	Totals []Total
	// Floor is what would change on the floor if the second took the first one's place.
	Floor FloorChange
	// Loops, Cells and Racks are those that differ, by code.
	Loops []LoopDifference
	Cells []CellDifference
	Racks []RackDifference
	// Routes are paired by the racks that both stop at, for names mean nothing from
	// plan to plan; those that have no partner are new or gone.
	Routes []RouteDifference
	// What plays found counts only where both plans were played.
	// Came are findings that only the second plan has, Gone those that only the first
	// has; Stay are those of both, Changed those that both have in other words.
	Came, Gone, Stay finding.List
	Changed          []FindingChange
}

// FindingChange is what two plans find of the same thing, under one code.
type FindingChange struct{ Before, After finding.Finding }

// Total is one number of both plans.
type Total struct {
	Name, Unit    string
	Before, After float64
	// Known is false where one of the two is not known, as a cost without prices.
	Known bool
}

// LoopDifference is a loop that differs. One of the two is nil where it is new or gone.
type LoopDifference struct {
	Loop          demand.Key
	Before, After *Loop
	// Lanes are those that it has, by rack, level and lane.
	Lanes [2][]placement.Lane
	// Carried are the containers that come to another rack or level.
	Carried int
}

// Moved reports whether its lanes differ.
func (d LoopDifference) Moved() bool { return !slices.Equal(d.Lanes[0], d.Lanes[1]) }

// CellDifference counts a cell in both plans.
type CellDifference struct {
	Cell          plant.CellCode
	Before, After CellCount
}

// CellCount counts a cell of a plan.
type CellCount struct {
	Loops, Containers, Unplaced int
	LanesUsed, LanesFree        int
	Racks, Proposed             int
	// Effort is kg per net hour, AddedCost that of the racks added (see
	// placement.Bound).
	Effort, AddedCost float64
}

// RackDifference is a rack whose type or lanes in use differ, or that is new or gone.
type RackDifference struct {
	Rack          plant.RackCode
	Cell          plant.CellCode
	Before, After *structure.Rack
	// Used are its supply lanes with a part; Changed the lanes in use that differ.
	Used    [2]int
	Changed int
}

// RouteDifference compares two routes, or shows one that is new or gone.
type RouteDifference struct {
	Before, After *routing.Route
	// Came and Gone are racks that it stops at now and did before.
	Came, Gone []plant.RackCode
}

// Compare says what differs between two plans. Costs are those of a year, nil where
// they are not known.
func Compare(before, after *Plan, costs [2]*costing.Cost) Comparison {
	c := Comparison{
		Totals: totals(before, after, costs), Floor: ChangeOnFloor(before, after),
		Loops: loopDifferences(before, after), Cells: cellDifferences(before, after),
		Racks: rackDifferences(before, after), Routes: routeDifferences(before, after),
	}
	was, is := before.Findings, after.Findings
	if before.Proof == nil || after.Proof == nil {
		was, is = unplayed(was), unplayed(is)
	}
	c.Came, c.Stay = lacking(is, was)
	c.Gone, _ = lacking(was, is)
	c.Came, c.Gone, c.Changed = reworded(c.Came, c.Gone)
	return c
}

// unplayed are the findings but those of a play: where one of two plans was not played,
// what the play of the other found is neither gone nor new.
func unplayed(list finding.List) finding.List {
	return slices.DeleteFunc(slices.Clone(list), func(f finding.Finding) bool { return strings.HasPrefix(f.Code, "simulation.") })
}

// lacking parts a list of findings into those that another list lacks and those that
// it has: of the same code in the same words.
func lacking(list, other finding.List) (lacks, has finding.List) {
	type said struct{ code, summary string }
	left := map[said]int{}
	for _, f := range other {
		left[said{f.Code, f.Summary}]++
	}
	for _, f := range list {
		k := said{f.Code, f.Summary}
		if left[k]--; left[k] < 0 {
			lacks = append(lacks, f)
		} else {
			has = append(has, f)
		}
	}
	return lacks, has
}

// reworded takes out of findings that came and went those of the same code about the
// same thing, one for one in their order.
func reworded(came, gone finding.List) (onlyCame, onlyGone finding.List, changed []FindingChange) {
	type about struct {
		code string
		of   finding.Subject
	}
	before, paired := map[about]finding.List{}, map[about]int{}
	for _, f := range gone {
		k := about{f.Code, f.Subject}
		before[k] = append(before[k], f)
	}
	for _, f := range came {
		k := about{f.Code, f.Subject}
		if n := paired[k]; n < len(before[k]) {
			changed = append(changed, FindingChange{before[k][n], f})
			paired[k]++
		} else {
			onlyCame = append(onlyCame, f)
		}
	}
	for _, f := range gone {
		if k := (about{f.Code, f.Subject}); paired[k] > 0 {
			paired[k]--
		} else {
			onlyGone = append(onlyGone, f)
		}
	}
	return onlyCame, onlyGone, changed
}

// StepsFrom lists the errands that turn the layout of one plan into that of another, in
// an order that can be worked down; facts are those of the second. Where before is nil
// they begin with today's layout.
func StepsFrom(facts *plant.Plant, before, after *Plan) []placement.Step {
	if before == nil {
		return after.MoveSteps
	}
	return placement.StepsFrom(laid(plant.NewIndex(facts), after), before.Lanes, layoutOf(after), after.Settings.Placement.Moving)
}

func totals(before, after *Plan, costs [2]*costing.Cost) []Total {
	a, b := before.Summary(), after.Summary()
	both := func(name, unit string, x, y float64) Total { return Total{name, unit, x, y, true} }
	count := func(name string, x, y int) Total { return both(name, "", float64(x), float64(y)) }
	list := []Total{
		count("loops", a.Loops, b.Loops), count("loops with all their lanes", a.LoopsPlaced, b.LoopsPlaced),
		count("containers", a.Containers, b.Containers), count("containers without a lane", a.ContainersUnplaced, b.ContainersUnplaced),
		count("lanes used", a.LanesUsed, b.LanesUsed), count("lanes free", a.LanesFree, b.LanesFree),
		count("racks", a.Racks, b.Racks), count("racks proposed", a.RacksProposed, b.RacksProposed),
		both("frontage", "m", frontage(before.Racks).Metres(), frontage(after.Racks).Metres()),
		both("effort", "kg/h", a.Effort, b.Effort),
		count("routes", a.Routes, b.Routes), count("handlers", a.Handlers, b.Handlers),
		count("loops that no round serves", before.LoopsUnserved(), after.LoopsUnserved()),
		both("way driven", "m/h", routing.MetresPerHour(before.Routes), routing.MetresPerHour(after.Routes)),
		count("containers moved against today", a.MovedContainers, b.MovedContainers),
	}
	cost := Total{Name: "cost", Unit: "a year"}
	if costs[0] != nil && costs[1] != nil {
		cost.Before, cost.After = costs[0].Total.Float64(), costs[1].Total.Float64()
		cost.Known = !costs[0].Partial() && !costs[1].Partial()
	}
	return append(list, cost)
}

// keyed indexes a list by a code of its items.
func keyed[K comparable, T any](list []T, key func(*T) K) map[K]*T {
	m := make(map[K]*T, len(list))
	for i := range list {
		m[key(&list[i])] = &list[i]
	}
	return m
}

func loopDifferences(before, after *Plan) []LoopDifference {
	was, now := keyed(before.Loops, func(l *Loop) demand.Key { return l.Key }), keyed(after.Loops, func(l *Loop) demand.Key { return l.Key })
	lanes := [2]map[demand.Key][]placement.Lane{lanesOf(before), lanesOf(after)}
	on, at := containersOn(before), containersOn(after)
	var list []LoopDifference
	for _, k := range sortedKeys(was, now, demand.Key.Compare) {
		d := LoopDifference{Loop: k, Before: was[k], After: now[k], Lanes: [2][]placement.Lane{lanes[0][k], lanes[1][k]}}
		for level, n := range at[k] {
			d.Carried += max(0, n-on[k][level])
		}
		same := d.Before != nil && d.After != nil && d.Before.Containers == d.After.Containers && d.Before.Interval == d.After.Interval &&
			d.Before.Container == d.After.Container && d.Before.Pack == d.After.Pack
		if !same || d.Moved() {
			list = append(list, d)
		}
	}
	return list
}

func lanesOf(p *Plan) map[demand.Key][]placement.Lane {
	m := map[demand.Key][]placement.Lane{}
	for _, l := range p.Lanes {
		if !l.Empty() {
			m[l.Loop] = append(m[l.Loop], l)
		}
	}
	return m
}

func cellDifferences(before, after *Plan) []CellDifference {
	was, now := cellCounts(before), cellCounts(after)
	var list []CellDifference
	for _, code := range sortedKeys(was, now, cmp.Compare[plant.CellCode]) {
		d := CellDifference{code, was[code], now[code]}
		if d.Before != d.After {
			list = append(list, d)
		}
	}
	return list
}

func cellCounts(p *Plan) map[plant.CellCode]CellCount {
	m := map[plant.CellCode]CellCount{}
	change := func(code plant.CellCode, f func(*CellCount)) {
		c := m[code]
		f(&c)
		m[code] = c
	}
	home := map[plant.RackCode]plant.CellCode{}
	for _, r := range p.Racks {
		home[r.Rack] = r.Cell
		change(r.Cell, func(c *CellCount) {
			c.Racks++
			if r.Proposed {
				c.Proposed++
			}
		})
	}
	for _, l := range p.Lanes {
		change(home[l.Rack], func(c *CellCount) {
			switch {
			case l.Kind == plant.Return:
			case l.Empty():
				c.LanesFree++
			default:
				c.LanesUsed++
			}
		})
	}
	for _, l := range p.Loops {
		change(l.Cell, func(c *CellCount) { c.Loops++; c.Containers += l.Containers })
	}
	for _, u := range p.Unplaced {
		change(u.Loop.Cell, func(c *CellCount) { c.Unplaced += u.Containers })
	}
	for _, b := range p.Cells {
		change(b.Cell, func(c *CellCount) { c.Effort, c.AddedCost = b.Effort, b.AddedCost })
	}
	return m
}

func rackDifferences(before, after *Plan) []RackDifference {
	code := func(r *structure.Rack) plant.RackCode { return r.Rack }
	was, now := keyed(before.Racks, code), keyed(after.Racks, code)
	lanes := [2]map[placement.Spot]placement.Lane{lanesBySpot(before), lanesBySpot(after)}
	used, changed := [2]map[plant.RackCode]int{{}, {}}, map[plant.RackCode]int{}
	for i, m := range lanes {
		for at := range m {
			used[i][at.Rack]++
		}
	}
	for at := range union(lanes[0], lanes[1]) {
		if lanes[0][at] != lanes[1][at] {
			changed[at.Rack]++
		}
	}
	var list []RackDifference
	for _, k := range sortedKeys(was, now, cmp.Compare[plant.RackCode]) {
		d := RackDifference{Rack: k, Before: was[k], After: now[k], Used: [2]int{used[0][k], used[1][k]}, Changed: changed[k]}
		if d.After != nil {
			d.Cell = d.After.Cell
		} else {
			d.Cell = d.Before.Cell
		}
		if d.Before == nil || d.After == nil || d.Before.Type.RackType != d.After.Type.RackType || d.Changed > 0 {
			list = append(list, d)
		}
	}
	return list
}

// routeDifferences pairs the routes that have most racks in common, then lists those
// that differ: the pairs by the second plan's names, what is gone last.
func routeDifferences(before, after *Plan) []RouteDifference {
	type match struct{ a, b, common int }
	var matches []match
	for i := range before.Routes {
		racks := racksOf(&before.Routes[i])
		for j := range after.Routes {
			m := match{i, j, 0}
			for r := range racksOf(&after.Routes[j]) {
				if racks[r] {
					m.common++
				}
			}
			if m.common > 0 {
				matches = append(matches, m)
			}
		}
	}
	slices.SortFunc(matches, func(x, y match) int {
		return cmp.Or(cmp.Compare(y.common, x.common), cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
	})
	pair, taken := map[int]int{}, map[int]bool{}
	for _, m := range matches {
		if _, has := pair[m.b]; !has && !taken[m.a] {
			pair[m.b], taken[m.a] = m.a, true
		}
	}
	var list []RouteDifference
	for j := range after.Routes {
		d := RouteDifference{After: &after.Routes[j]}
		if i, ok := pair[j]; ok {
			d.Before = &before.Routes[i]
		}
		if d = d.compared(); d.differs() {
			list = append(list, d)
		}
	}
	for i := range before.Routes {
		if !taken[i] {
			list = append(list, RouteDifference{Before: &before.Routes[i]}.compared())
		}
	}
	return list
}

func racksOf(r *routing.Route) map[plant.RackCode]bool {
	racks := map[plant.RackCode]bool{}
	if r != nil {
		for _, s := range r.Stops {
			racks[s.Rack] = true
		}
	}
	return racks
}

func (d RouteDifference) compared() RouteDifference {
	was, now := racksOf(d.Before), racksOf(d.After)
	for _, r := range sortedKeys(was, now, cmp.Compare[plant.RackCode]) {
		switch {
		case !was[r]:
			d.Came = append(d.Came, r)
		case !now[r]:
			d.Gone = append(d.Gone, r)
		}
	}
	return d
}

// differs reports whether the round itself differs, whatever its name.
func (d RouteDifference) differs() bool {
	if d.Before == nil || d.After == nil || len(d.Came)+len(d.Gone) > 0 {
		return true
	}
	a, b := d.Before, d.After
	return a.Interval != b.Interval || a.Round != b.Round || a.Travel != b.Travel || a.Vehicle != b.Vehicle || a.LoadPlanned != b.LoadPlanned || a.LoadMean != b.LoadMean
}
