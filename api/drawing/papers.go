package drawing

import (
	"fmt"
	"strings"
	"time"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// Papers are printed from a plan: the plant rack report, labels, loop cards and
// route sheets, in the plant's units, on A4 or on Letter where it measures in inches.
// The same plan gives the same bytes.
type Papers struct {
	Facts *plant.Plant
	Plan  *planner.Plan
	// Name says which plan it is; it stands on every page.
	Name string
	// Cells are those the papers are about; none are all. See planner.InCells.
	Cells []plant.CellCode
}

// desk is what of a plan the papers are about, with what they look up.
type desk struct {
	Papers
	// whole is the plan of all cells.
	whole *planner.Plan
	index *plant.Index
	loops map[demand.Key]*planner.Loop
	// byLoop are a loop's lanes, byRack a rack's, in their order.
	byLoop map[demand.Key][]placement.Lane
	byRack map[plant.RackCode][]placement.Lane
}

func (p Papers) desk() *desk {
	d := &desk{
		Papers: p, whole: p.Plan, index: plant.NewIndex(p.Facts), loops: make(map[demand.Key]*planner.Loop, len(p.Plan.Loops)),
		byLoop: map[demand.Key][]placement.Lane{}, byRack: map[plant.RackCode][]placement.Lane{},
	}
	d.Facts, d.Plan = planner.InCells(p.Facts, p.Plan, p.Cells...)
	for i := range d.Plan.Loops {
		d.loops[d.Plan.Loops[i].Key] = &d.Plan.Loops[i]
	}
	for _, l := range d.Plan.Lanes {
		d.byRack[l.Rack] = append(d.byRack[l.Rack], l)
		if !l.Empty() {
			d.byLoop[l.Loop] = append(d.byLoop[l.Loop], l)
		}
	}
	return d
}

func (d *desk) measure() measure { return measure(d.Plan.Settings.Plant.LengthUnit) }

// description is the part's text, empty where the facts have none.
func (d *desk) description(c plant.PartCode) string {
	if p := d.index.Parts[c]; p != nil {
		return p.Description
	}
	return ""
}

// market is where the part lies in the market, empty where the facts do not say.
func (d *desk) market(c plant.PartCode) string {
	if p := d.index.Parts[c]; p != nil {
		return p.MarketAddress
	}
	return ""
}

// spot names a lane in its rack: its level and its number.
func spot(level, lane int) string { return fmt.Sprintf("%d-%d", level, lane) }

// clockTime writes a time of day: 06:00, and 25:30 as 01:30.
func clockTime(d time.Duration) string {
	m := int(d.Round(time.Minute)/time.Minute) % (24 * 60)
	return fmt.Sprintf("%02d:%02d", m/60, m%60)
}

// minutesText writes a time as minutes with at most one digit.
func minutesText(d time.Duration) string { return decimal(d.Minutes(), 1) + " min" }

// counted writes a number with its noun.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// joined puts the texts that there are beside each other.
func joined(between string, texts ...string) string {
	var list []string
	for _, s := range texts {
		if s != "" {
			list = append(list, s)
		}
	}
	return strings.Join(list, between)
}
