package planner

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// highestPick is the highest lane that a level more may have: the height of the
// hands to which the vertical multiplier of the NIOSH equation reaches.
const highestPick = 1750 * units.Millimetre

// served lets racks of the cell serve the station of a loop without a lane.
func (t *trial) served() []idea {
	var list []idea
	for _, l := range t.short() {
		for _, r := range t.facts.Racks {
			if len(t.base.layout.Unplaced) == 0 || len(r.Stations) == 0 || slices.Contains(r.Stations, l.Station) {
				continue
			}
			list = append(list, idea{
				kind: OtherRack, loops: []demand.Key{l.Key}, rack: r.Rack, text: fmt.Sprintf("Let rack %s serve station %s too.", r.Rack, l.Station),
				change: func(p *plant.Plant) {
					i := slices.IndexFunc(p.Racks, func(o plant.Rack) bool { return o.Rack == r.Rack })
					p.Racks[i].Stations = append(slices.Clone(p.Racks[i].Stations), l.Station)
				},
			})
		}
	}
	return list
}

// neighbours uses what the plan leaves free on a rack of another cell that stands
// within the walk limit of the station of a loop without a lane.
func (t *trial) neighbours() []idea {
	var list []idea
	if len(t.base.layout.Unplaced) == 0 {
		return nil
	}
	for i := range t.plan.Racks {
		r := &t.plan.Racks[i]
		if r.Cell == t.cell || r.Proposed || !r.Known {
			continue
		}
		var near []plant.StationCode
		var loops []demand.Key
		for _, l := range t.short() {
			if t.walkable(l.Key, r) {
				near, loops = append(near, l.Station), append(loops, l.Key)
			}
		}
		if free, fixed := t.freeOn(r); len(free.Levels) > 0 && len(near) > 0 {
			list = append(list, t.borrowed(r, free, fixed, near, loops))
		}
	}
	return list[:min(len(list), mostSwapped)]
}

// walkable reports whether a rack stands within the walk limit of a loop's
// station.
func (t *trial) walkable(k demand.Key, r *structure.Rack) bool {
	at := slices.IndexFunc(t.facts.Stations, func(s plant.Station) bool { return s.Station == k.Station })
	if at < 0 || t.facts.Stations[at].Place == nil {
		return false
	}
	s := t.facts.Stations[at]
	dx, dy := s.Place.X.Metres()-r.Place.X.Metres(), s.Place.Y.Metres()-r.Place.Y.Metres()
	return dx*dx+dy*dy <= s.WalkLimit.Metres()*s.WalkLimit.Metres()
}

// freeOn is a type like a rack's with what the plan leaves free of each supply
// level and its masses, and the lanes that are free on levels with fixed guides;
// without a level where nothing is free. The frontage is the other cell's.
func (t *trial) freeOn(r *structure.Rack) (plant.RackType, []plant.FixedLanes) {
	free := *r.Type
	free.RackType, free.Width, free.Cost, free.Levels = plant.RackTypeCode("free on "+r.Rack), 0, 0, nil
	var fixed []plant.FixedLanes
	onRack := units.Mass(0)
	for _, l := range r.Levels {
		used, mass := t.used(r.Rack, l.Level.Level)
		onRack += mass
		left := l.Level
		left.UsableWidth -= used
		if left.MassLimit -= mass; l.MassLimit == 0 {
			left.MassLimit = 0
		}
		if l.Kind != plant.Supply || l.MassLimit > 0 && left.MassLimit <= 0 {
			continue
		}
		if len(l.Fixed) > 0 {
			lanes := t.freeLanes(r.Rack, l.Level.Level)
			left.UsableWidth = t.across(lanes)
			fixed = append(fixed, plant.FixedLanes{Level: l.Level.Level, Widths: lanes})
		}
		if left.UsableWidth > 0 {
			free.Levels = append(free.Levels, left)
		}
	}
	if free.MassLimit -= onRack; r.Type.MassLimit == 0 {
		free.MassLimit = 0
	}
	if r.Type.MassLimit > 0 && free.MassLimit <= free.OwnMass {
		free.Levels = nil
	}
	return free, fixed
}

// freeLanes are the widths of the empty lanes of a level. Lanes in use between
// them become one too narrow for anything, so that what is parted stays so.
func (t *trial) freeLanes(rack plant.RackCode, level int) []units.Length {
	var list []units.Length
	for _, lane := range t.plan.Lanes {
		switch {
		case lane.Rack != rack || lane.Level != level:
		case lane.Empty():
			list = append(list, lane.Width)
		case len(list) > 0 && list[len(list)-1] > 1:
			list = append(list, 1)
		}
	}
	return list
}

// across is the width of lanes side by side with the guides between them.
func (t *trial) across(lanes []units.Length) units.Length {
	width := units.Length(0)
	for i, w := range lanes {
		if width += w; i > 0 {
			width += t.plan.Settings.Plant.GuideWidth
		}
	}
	return width
}

// used is the width, with guides, and the mass that lie on a level.
func (t *trial) used(rack plant.RackCode, level int) (units.Length, units.Mass) {
	var width units.Length
	var mass units.Mass
	for _, lane := range t.plan.Lanes {
		if lane.Rack == rack && lane.Level == level && !lane.Empty() {
			width += lane.Width + t.plan.Settings.Plant.GuideWidth
			mass += units.Mass(lane.Containers) * t.loops[lane.Loop].Gross
		}
	}
	return width, mass
}

func (t *trial) borrowed(r *structure.Rack, free plant.RackType, fixed []plant.FixedLanes, stations []plant.StationCode, loops []demand.Key) idea {
	return idea{
		kind: OtherRack, loops: loops,
		text: fmt.Sprintf("Use the free lanes of rack %s of cell %s.", r.Rack, r.Cell),
		note: "Only what the plan leaves free there is counted; the rack has to serve both cells.",
		change: func(p *plant.Plant) {
			closed(p)
			p.RackTypes = append(p.RackTypes, free)
			place := r.Place
			p.Racks = append(p.Racks, plant.Rack{Rack: r.Rack, RackType: free.RackType, Cell: t.cell, Stations: stations, Place: &place, AislePoint: r.Point, FixedLanes: fixed})
		},
	}
}

// closed writes down which rack types may be added, so that a type made for a
// trial is none of them.
func closed(p *plant.Plant) {
	if c := &p.Cells[0]; len(c.RackTypes) == 0 {
		for _, t := range p.RackTypes {
			c.RackTypes = append(c.RackTypes, t.RackType)
		}
	}
}

// samples are standing racks, one of each kind that is alike in type and
// stations: the one on which least lies.
func (t *trial) samples() []*plant.Rack {
	load := map[plant.RackCode]int{}
	for _, lane := range t.base.layout.Lanes {
		load[lane.Rack] += lane.Containers
	}
	var list []*plant.Rack
	for i := range t.facts.Racks {
		r := &t.facts.Racks[i]
		at := slices.IndexFunc(list, func(o *plant.Rack) bool { return o.RackType == r.RackType && slices.Equal(o.Stations, r.Stations) })
		switch {
		case at < 0:
			list = append(list, r)
		case load[r.Rack] < load[list[at].Rack]:
			list[at] = r
		}
	}
	slices.SortFunc(list, func(a, b *plant.Rack) int { return cmp.Compare(a.Rack, b.Rack) })
	return list[:min(len(list), mostSwapped)]
}

// typeOf finds a rack type, nil where there is none.
func (t *trial) typeOf(code plant.RackTypeCode) *plant.RackType {
	if i := slices.IndexFunc(t.facts.RackTypes, func(r plant.RackType) bool { return r.RackType == code }); i >= 0 {
		return &t.facts.RackTypes[i]
	}
	return nil
}

// frontageOver is how much the standing racks would pass the cell's frontage by
// with so much more.
func (t *trial) frontageOver(more units.Length) units.Length {
	if t.facts.Cells[0].Frontage == 0 {
		return 0
	}
	for _, r := range t.facts.Racks {
		if of := t.typeOf(r.RackType); of != nil {
			more += of.Width
		}
	}
	return max(0, more-t.facts.Cells[0].Frontage)
}

// types puts a rack of another type in the place of a standing one: deeper, with
// more levels, or with a higher one, that is no wider than the frontage allows.
func (t *trial) types() []idea {
	var list []idea
	for _, r := range t.samples() {
		now := t.typeOf(r.RackType)
		if now == nil {
			continue
		}
		for i := range t.facts.RackTypes {
			if to := &t.facts.RackTypes[i]; larger(to, now) && t.frontageOver(to.Width-now.Width) == 0 {
				list = append(list, swapped(r.Rack, to, now))
			}
		}
	}
	return list
}

// larger reports whether a type holds what another can not.
func larger(a, b *plant.RackType) bool {
	levels := func(t *plant.RackType) (n int, clear, long units.Length) {
		for _, l := range t.Levels {
			if l.Kind == plant.Supply {
				n, clear, long = n+1, max(clear, l.ClearHeight), max(long, l.LaneLength)
			}
		}
		return n, clear, long
	}
	n, clear, long := levels(a)
	m, clearB, longB := levels(b)
	return n > m || clear > clearB || long > longB
}

func swapped(rack plant.RackCode, to, now *plant.RackType) idea {
	return idea{
		kind: OtherRackType, rack: rack, adds: to.Width - now.Width, text: fmt.Sprintf("Put a rack of type %s in the place of %s (type %s).", to.RackType, rack, now.RackType),
		note: fmt.Sprintf("It is %s deep, now %s: check the aisle.", to.Depth, now.Depth), bought: []units.Money{to.Cost},
		change: func(p *plant.Plant) {
			i := slices.IndexFunc(p.Racks, func(r plant.Rack) bool { return r.Rack == rack })
			p.Racks[i].RackType, p.Racks[i].FixedLanes = to.RackType, nil
		},
	}
}

// levels adds a supply level on top of a standing rack, as far above the highest
// as that is above the one below, where hands still reach it.
func (t *trial) levels() []idea {
	var list []idea
	for _, r := range t.samples() {
		if now := t.typeOf(r.RackType); now != nil {
			if taller, ok := oneLevelMore(*now); ok {
				list = append(list, heightened(r.Rack, taller))
			}
		}
	}
	return list
}

func oneLevelMore(t plant.RackType) (plant.RackType, bool) {
	var supply []plant.Level
	highest := units.Length(0)
	for _, l := range t.Levels {
		if highest = max(highest, l.PickHeight); l.Kind == plant.Supply {
			supply = append(supply, l)
		}
	}
	if len(supply) == 0 {
		return t, false
	}
	top := supply[len(supply)-1]
	step := top.ClearHeight + max(0, top.Drop)
	if len(supply) > 1 {
		step = max(top.PickHeight-supply[len(supply)-2].PickHeight, 0)
	}
	top.Level, top.PickHeight = t.Levels[len(t.Levels)-1].Level+1, highest+step
	t.RackType, t.Levels = t.RackType+" and a level", append(slices.Clone(t.Levels), top)
	t.Height = max(t.Height, top.LoadHeight()+top.ClearHeight)
	return t, step > 0 && top.PickHeight <= highestPick
}

func heightened(rack plant.RackCode, taller plant.RackType) idea {
	top := taller.Levels[len(taller.Levels)-1]
	return idea{
		kind: OneLevelMore, rack: rack, text: fmt.Sprintf("Add a supply level on rack %s, its lanes %s above the floor.", rack, top.PickHeight),
		note: "The sheets give no price for a level. Check the rack's height, its stability and its mass limit.", bought: []units.Money{0},
		change: func(p *plant.Plant) {
			closed(p)
			p.RackTypes = append(p.RackTypes, taller)
			i := slices.IndexFunc(p.Racks, func(r plant.Rack) bool { return r.Rack == rack })
			p.Racks[i].RackType = taller.RackType
		},
	}
}

// more adds a rack of each type, with the frontage it takes beyond the cell's.
func (t *trial) more() []idea {
	var list []idea
	for i := range t.facts.RackTypes {
		list = append(list, t.added(&t.facts.RackTypes[i]))
	}
	return list
}

func (t *trial) added(of *plant.RackType) idea {
	i := idea{
		kind: OneRackMore, text: fmt.Sprintf("Add a rack of type %s, %s wide.", of.RackType, of.Width), bought: []units.Money{of.Cost}, adds: of.Width,
		change: func(p *plant.Plant) {
			p.Racks = append(p.Racks, plant.Rack{Rack: t.newCode(p), RackType: of.RackType, Cell: t.cell, Place: p.Cells[0].NewRack, AislePoint: p.Cells[0].NewRackPoint})
			widen(p)
		},
	}
	if allowed := t.facts.Cells[0].RackTypes; len(allowed) > 0 && !slices.Contains(allowed, of.RackType) {
		i.note = "The cell's sheet does not allow this type."
	}
	return i
}

// widen gives the cell the frontage that its standing racks take.
func widen(p *plant.Plant) {
	c := &p.Cells[0]
	if c.Frontage == 0 {
		return
	}
	width := map[plant.RackTypeCode]units.Length{}
	for i := range p.RackTypes {
		width[p.RackTypes[i].RackType] = p.RackTypes[i].Width
	}
	sum := units.Length(0)
	for _, r := range p.Racks {
		sum += width[r.RackType]
	}
	c.Frontage = max(c.Frontage, sum)
}

// frontageNote says what is missing of the frontage for racks that take so much
// more.
func (t *trial) frontageNote(more units.Length) string {
	over := t.frontageOver(more)
	if more <= 0 || over <= 0 {
		return ""
	}
	return fmt.Sprintf("The cell's frontage is passed by %s: it has to be found.", over)
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}

// newCode is a code that no rack of the plan or of the changed facts has.
func (t *trial) newCode(p *plant.Plant) plant.RackCode {
	code := plant.RackCode(t.cell) + " one more"
	for slices.ContainsFunc(t.plan.Lanes, func(l placement.Lane) bool { return l.Rack == code }) ||
		slices.ContainsFunc(p.Racks, func(r plant.Rack) bool { return r.Rack == code }) {
		code += "+"
	}
	return code
}
