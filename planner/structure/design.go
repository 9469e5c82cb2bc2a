package structure

import (
	"fmt"
	"math"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Need is a loop that a rack is to hold.
type Need struct {
	// Ways are the ways its container may lie: one, or two where either side may
	// run along the lane.
	Ways       []Box
	Containers int
	// Picked and Loaded are what is lifted at the pick edge and at the load edge,
	// in kg per hour.
	Picked, Loaded float64
}

// ReturnPlace says where the return level of a designed rack lies.
type ReturnPlace string

// Places of the return level.
const (
	NoReturn    ReturnPlace = "none"
	ReturnBelow ReturnPlace = "below"
	ReturnAbove ReturnPlace = "above"
)

// Wishes are what a designed rack must keep to.
type Wishes struct {
	// Depth of the rack, and its largest width; a width of 0 is no limit but the
	// kit's.
	Depth, MostWidth units.Length
	// Low and High bound the pick heights of supply levels.
	Low, High units.Length
	// Slope is drop over lane length of the supply levels.
	Slope units.Ratio
	// SideClearance, GuideWidth and Hand are the plant's settings.
	SideClearance, GuideWidth, Hand units.Length
	MostLevels                      int
	Return                          ReturnPlace
	// ReturnHeight is that of the highest container that comes back.
	ReturnHeight units.Length
	OnCasters    bool
	Limits       Limits
}

// DefaultWishes are a depth of 1500 mm, supply levels with pick heights from 450
// to 1350 mm, at most five, that drop 1 in 24, over a return level. Common
// practice, no source; clearances are the plant's.
func DefaultWishes(s plant.Settings) Wishes {
	const mm = units.Millimetre
	l := DefaultLimits()
	l.Hand = s.HandClearance
	return Wishes{
		Depth: 1500 * mm, Low: 450 * mm, High: 1350 * mm, Slope: units.R(1, 24),
		SideClearance: s.SideClearance, GuideWidth: s.GuideWidth, Hand: s.HandClearance,
		MostLevels: 5, Return: ReturnBelow, ReturnHeight: 300 * mm, Limits: l,
	}
}

// Proposal is a rack type made for its needs.
type Proposal struct {
	Type plant.RackType
	// Lanes hold the needs; Holds says which need lies in each.
	Lanes []Lane
	Holds []int
	// Effort is that of planning rule 5 over all needs, in kg per hour.
	Effort float64
	// Best says that no other way of putting the needs on levels has less
	// frontage, or the same and less effort; else it was searched for.
	Best bool
}

// Number is that of the lane at position i on its level, from 1 at the left.
func (p Proposal) Number(i int) int {
	n := 1
	for i > 0 && p.Lanes[i-1].Level == p.Lanes[i].Level {
		n, i = n+1, i-1
	}
	return n
}

// laneShort is how much shorter a lane is than its rack is deep; grid is what
// heights of designed levels are whole multiples of.
const (
	laneShort = 50 * units.Millimetre
	grid      = 5 * units.Millimetre
)

// mostTried is the number of needs up to which every way of putting them on
// levels is tried.
const mostTried = 8

// CodeNoDesign says that no rack within the kit's limits holds the needs.
const CodeNoDesign = "structure.no-rack-holds"

// Design makes a rack type that holds all needs, with least frontage, then least
// effort, out of a kit's parts; a level that the screening calls overloaded is
// designed again with less on it. ok is false, and a finding says why, where
// there is none within the wishes and the kit's lengths.
func Design(needs []Need, k *plant.Kit, w Wishes) (p Proposal, found finding.List, ok bool) {
	d := &designer{needs: needs, k: k, w: w, most: math.Inf(1)}
	if f := d.prepare(); f != nil {
		return Proposal{}, finding.List{*f}, false
	}
	for {
		s, ok := d.search()
		if !ok {
			return Proposal{}, finding.List{d.whyNot()}, false
		}
		p = d.propose(s)
		var load float64
		if found, load = d.screen(&p); load == 0 {
			return p, found, true
		}
		d.most = load
	}
}

// designer is a design under way.
type designer struct {
	needs []Need
	k     *plant.Kit
	w     Wishes
	// items are the needs as they lie; deep is what the tracks and cross tubes of
	// a level take in height.
	items               []item
	deep, lane, drop    units.Length
	foot, side, highest units.Length
	// most is the largest load of a level in kg.
	most float64
}

// item is a need in its lanes.
type item struct {
	box   Box
	lanes int
	// width of its lanes with the guides between them.
	width, laneWidth units.Length
	capacity         int
	kg               float64
}

// prepare lays every need on its lanes; it returns a finding where one has no
// way to lie.
func (d *designer) prepare() *finding.Finding {
	upright, cross, track := d.k.Tube(plant.AsUpright), d.k.Tube(plant.AsCrossTube), d.k.Of(plant.RollerPart)
	if upright == nil || cross == nil || track == nil {
		return noDesign("its kit lacks tubes or rollers", "Every rack needs them.", "Add them to the sheet Kit parts.", nil)
	}
	d.lane = d.w.Depth - laneShort
	d.drop = down(units.Length(units.R(int64(d.lane), 1).Mul(d.w.Slope).Floor()), units.Millimetre)
	d.deep = up(length(float64(track.Height+cross.Height)*d.tilt()), units.Millimetre)
	d.side = max(upright.Width, upright.Height)
	if foot := d.k.Of(plant.FootPart); foot != nil {
		d.foot = foot.Height
	}
	if caster := d.k.Of(plant.CasterPart); caster != nil && (d.w.OnCasters || d.foot == 0) {
		d.foot = caster.Height
	}
	d.items = nil
	for n, need := range d.needs {
		it, ok := d.lie(need)
		if !ok {
			return noDesign(fmt.Sprintf("the container of need %d is longer than a lane of %s", n+1, d.lane),
				"Either side of it is longer than the lanes of a rack so deep.", "Make the rack deeper.", nil)
		}
		d.items = append(d.items, it)
		d.highest = max(d.highest, it.box.Height)
	}
	return nil
}

// lie takes the way that needs the least width, the first of two alike.
func (d *designer) lie(n Need) (best item, ok bool) {
	clear := max(d.w.SideClearance, d.k.SideClearance)
	for _, box := range n.Ways {
		if box.Flow <= 0 || box.Flow > d.lane {
			continue
		}
		c := int(d.lane / box.Flow)
		lanes := (n.Containers + c - 1) / c
		it := item{box: box, lanes: lanes, laneWidth: box.Across + 2*clear, capacity: c}
		it.width = it.laneWidth*units.Length(lanes) + d.w.GuideWidth*units.Length(lanes-1)
		it.kg = box.Gross.KG() * float64(c*lanes)
		if !ok || it.width < best.width {
			best, ok = it, true
		}
	}
	return best, ok
}

// tilt is how much longer a sloped line is than its plan.
func (d *designer) tilt() float64 {
	return math.Hypot(1, float64(d.drop)/float64(d.lane))
}

// noDesign words why there is no rack.
func noDesign(why, detail, remedy string, m *finding.Measure) *finding.Finding {
	return &finding.Finding{
		Severity: finding.Warning, Code: CodeNoDesign, Measure: m,
		Summary: "No rack holds the needs: " + why, Detail: detail, Remedy: remedy,
	}
}

// whyNot says which limit the search met.
func (d *designer) whyNot() finding.Finding {
	if !math.IsInf(d.most, 1) {
		return *noDesign(fmt.Sprintf("a level may carry at most %.0f kg", math.Floor(d.most)), "With so little on each level there is no room for all of them.",
			"Take a kit with stiffer tubes, make the rack less deep, or use two racks.", nil)
	}
	if widest := d.widest(); widest > 0 {
		return *noDesign(fmt.Sprintf("the levels would be wider than %s, which the longest cross tube or the wish allows, or stand higher than %s", widest, d.w.High),
			"The needs are put on at most as many levels as fit between the lowest and the highest pick height.",
			"Share the needs out to two racks, make the rack deeper, or add a longer stock length.", nil)
	}
	return *noDesign(fmt.Sprintf("the levels would stand higher than %s", d.w.High), "The needs are put on levels between the lowest and the highest pick height.",
		"Allow a wider range of pick heights.", nil)
}

// widest is the largest usable width of a level, 0 where nothing limits it: the
// longest cross tube, or what the wished width leaves between the uprights.
func (d *designer) widest() units.Length {
	stock := d.k.Tube(plant.AsCrossTube).Longest()
	if wish := d.w.MostWidth - 2*d.side; d.w.MostWidth > 0 && (stock == 0 || wish < stock) {
		return max(wish, 1)
	}
	return stock
}

// screen builds, weighs and screens a proposal; load is the least load that an
// overloaded level may carry, 0 where none is overloaded.
func (d *designer) screen(p *Proposal) (found finding.List, load float64) {
	f, found := Build(&p.Type, d.k, p.Lanes)
	if f == nil {
		return found, 0
	}
	if mass, whole := f.OwnMass(); whole {
		p.Type.OwnMass = mass - mass%units.Gram
	}
	s, more := Screen(f, d.w.Limits)
	for _, u := range s.Uses {
		deck := f.Deck(u.Level)
		if u.Share <= 1 || deck == nil || u.Role == Track {
			continue
		}
		carried := 0.0
		for _, c := range f.carries(deck) {
			carried += kilograms(c.newtons)
		}
		if allowed := carried / u.Share; load == 0 || allowed < load {
			load = allowed
		}
	}
	more = append(more, Check(plant.NewIndex(&plant.Plant{RackTypes: []plant.RackType{p.Type}}))...)
	return append(found, more...), load
}
