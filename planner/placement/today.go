package placement

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
)

// todaySpot is a level on which a loop lies today.
type todaySpot struct {
	Spot
	containers, lanes int
	// unknown is true where the sheet does not say how many containers.
	unknown bool
}

// spots are the levels on which each loop lies today, by rack and level, and the
// racks on which anything does.
type spots struct {
	of    map[demand.Key][]todaySpot
	racks map[plant.RackCode]bool
}

// CodeCurrentLevel marks a row of the current layout with a level that its rack
// does not have.
const CodeCurrentLevel = "current.unknown-level"

// standsThere lists the rows of the current layout that count, by rack, level
// and lane; rows whose level is unknown or for returns are left out, with a
// warning.
func standsThere(x *plant.Index) ([]plant.CurrentLane, finding.List) {
	var rows []plant.CurrentLane
	var noticed finding.List
	for _, l := range x.Plant.Current {
		r := x.Racks[l.Rack]
		if r == nil || x.RackTypes[r.RackType] == nil {
			continue // plant.Check has said so
		}
		if counts(x, l) {
			rows = append(rows, l)
			continue
		}
		noticed = append(noticed, finding.Finding{
			Severity: finding.Warning, Code: CodeCurrentLevel, Origin: x.Plant.At(l.Origin, "Level"),
			Subject: finding.Subject{Part: string(l.Part), Cell: string(r.Cell), Station: string(l.Station), Rack: string(l.Rack), RackType: string(r.RackType), Level: l.Level},
			Summary: fmt.Sprintf("Part %s lies today on level %d of rack %s, which has no such supply level", l.Part, l.Level, l.Rack),
			Detail:  fmt.Sprintf("Rack type %s has no supply level %d. The row was left out: where its containers lie today is not known.", r.RackType, l.Level),
			Remedy:  "Correct the level, or the type of the rack.",
		})
	}
	slices.SortStableFunc(rows, func(a, b plant.CurrentLane) int {
		return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level), cmp.Compare(a.Lane, b.Lane), cmp.Compare(a.Part, b.Part), cmp.Compare(a.Containers, b.Containers))
	})
	return rows, noticed
}

// counts reports whether a row names a supply level of a rack that is known.
func counts(x *plant.Index, l plant.CurrentLane) bool {
	r := x.Racks[l.Rack]
	return r != nil && x.RackTypes[r.RackType] != nil && hasSupply(x.RackTypes[r.RackType], l.Level)
}

// users lists the stations, by code, at which each part of a cell is used.
type users map[demand.Key][]plant.StationCode

func newUsers(loops []sizing.Loop) users {
	u := users{}
	for i := range loops {
		k := loops[i].Key
		at := demand.Key{Part: k.Part, Cell: k.Cell}
		u[at] = append(u[at], k.Station)
	}
	for _, list := range u {
		slices.Sort(list)
	}
	return u
}

// of lists the loops to which a row may belong: that of its station or, where
// it names none, those of its part in the rack's cell, those that the rack
// serves where there are any. A part that no loop of the cell uses keeps the
// station of its row.
func (u users) of(l plant.CurrentLane, r *plant.Rack) []demand.Key {
	stations := []plant.StationCode{l.Station}
	if all := u[demand.Key{Part: l.Part, Cell: r.Cell}]; l.Station == "" && len(all) > 0 {
		stations = slices.Clone(all)
		if served := slices.DeleteFunc(slices.Clone(all), func(s plant.StationCode) bool { return len(r.Stations) > 0 && !slices.Contains(r.Stations, s) }); len(served) > 0 {
			stations = served
		}
	}
	keys := make([]demand.Key, len(stations))
	for i, s := range stations {
		keys[i] = demand.Key{Part: l.Part, Cell: r.Cell, Station: s}
	}
	return keys
}

// today reads the current layout before there is a plan: for each loop the
// levels it lies on, by rack and level. A row that may belong to several loops
// is home to each of them.
func today(in Input) spots {
	t := spots{map[demand.Key][]todaySpot{}, map[plant.RackCode]bool{}}
	rows, _ := standsThere(in.Index)
	u := newUsers(in.Loops)
	for _, l := range rows {
		for _, k := range u.of(l, in.Index.Racks[l.Rack]) {
			t.of[k] = addSpot(t.of[k], l)
			t.racks[l.Rack] = true
		}
	}
	return t
}

// assigned reads the current layout beside a plan: what owned says, by loop,
// rack and level.
func assigned(in Input, l Layout) map[demand.Key][]todaySpot {
	spots := map[demand.Key][]todaySpot{}
	for _, o := range owned(in, l) {
		spots[o.loop] = addSpot(spots[o.loop], o.row)
	}
	for _, list := range spots {
		slices.SortFunc(list, func(a, b todaySpot) int { return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level)) })
	}
	return spots
}

// ownedRow is a row of the current layout and the loop whose containers it
// counts as.
type ownedRow struct {
	loop demand.Key
	row  plant.CurrentLane
}

// owned gives each row of the current layout to a loop. A row that may belong
// to several goes to one of which the plan has lanes on that level, else to one
// that has fewer rows than lanes, each by station code: nothing moves
// physically that need not.
func owned(in Input, l Layout) []ownedRow {
	type place struct {
		loop demand.Key
		rack plant.RackCode
		at   int
	}
	here, whole := map[place]int{}, map[demand.Key]int{}
	for _, lane := range l.Lanes {
		if !lane.Empty() {
			here[place{lane.Loop, lane.Rack, lane.Level}]++
			whole[lane.Loop]++
		}
	}
	var list []ownedRow
	give := func(k demand.Key, row plant.CurrentLane) {
		list = append(list, ownedRow{k, row})
		here[place{k, row.Rack, row.Level}]--
		whole[k]--
	}
	rows, _ := standsThere(in.Index)
	u := newUsers(in.Loops)
	var later []plant.CurrentLane
	for _, row := range rows {
		keys := u.of(row, in.Index.Racks[row.Rack])
		stays := slices.IndexFunc(keys, func(k demand.Key) bool { return here[place{k, row.Rack, row.Level}] > 0 })
		switch {
		case len(keys) == 1:
			give(keys[0], row)
		case stays >= 0:
			give(keys[stays], row)
		default:
			later = append(later, row)
		}
	}
	for _, row := range later {
		keys := u.of(row, in.Index.Racks[row.Rack])
		give(keys[max(0, slices.IndexFunc(keys, func(k demand.Key) bool { return whole[k] > 0 }))], row)
	}
	return list
}

func addSpot(list []todaySpot, l plant.CurrentLane) []todaySpot {
	i := slices.IndexFunc(list, func(s todaySpot) bool { return s.Rack == l.Rack && s.Level == l.Level })
	if i < 0 {
		list = append(list, todaySpot{Spot: Spot{l.Rack, l.Level, l.Lane}})
		i = len(list) - 1
	}
	s := &list[i]
	s.Lane = min(s.Lane, l.Lane)
	s.containers += l.Containers
	s.lanes++
	s.unknown = s.unknown || l.Containers == 0
	return list
}

// addToday marks the columns on which each loop lies today.
func (c *cell) addToday(t spots) {
	C := len(c.cols)
	c.today = t
	c.home = make([]bool, len(c.loops)*C)
	for i := range c.loops {
		for _, s := range t.of[c.key(i)] {
			for col := range c.standingCols {
				if c.bases[c.cols[col].base].rack.Rack == s.Rack && c.cols[col].level.Level.Level == s.Level {
					c.home[i*C+col], c.loops[i].today = true, true
				}
			}
		}
	}
}

// addPull prices the containers that lie elsewhere than today.
func (c *cell) addPull(s Settings) {
	c.pull = c.effort
	if s.Limited || s.MovePrice <= 0 || !slices.Contains(c.home, true) {
		return
	}
	C := len(c.cols)
	c.movePrice, c.pull = s.MovePrice, slices.Clone(c.effort)
	for at := range c.pull {
		if l := &c.loops[at/C]; l.today && !c.home[at] {
			c.pull[at] += c.movePrice * float64(l.k)
		}
	}
}
