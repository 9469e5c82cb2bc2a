package placement

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// CodeUneven marks a cell with a crammed level beside an almost empty one.
const CodeUneven = "placement.levels-uneven"

// Use tells how evenly the supply levels of a cell are used. The use of a level
// is the share of its usable width that lanes with a part take, guides included,
// 0 to 1.
type Use struct {
	Cell   plant.CellCode
	Levels int
	Mean   units.Ratio
	// Highest and Lowest are the uses of two levels, ties by rack and level;
	// HighestAt and LowestAt say which.
	Highest, Lowest     units.Ratio
	HighestAt, LowestAt Spot
}

// levelUse is the use of one level.
type levelUse struct {
	cell  plant.CellCode
	of    plant.RackTypeCode
	at    Spot
	share units.Ratio
}

// Uses measures each cell that has supply levels, by code.
func Uses(racks []structure.Rack, lanes []Lane, guide units.Length) []Use {
	var list []Use
	for _, u := range levelUses(racks, lanes, guide) {
		last := len(list) - 1
		if last < 0 || list[last].Cell != u.cell {
			list = append(list, Use{Cell: u.cell, Highest: u.share, Lowest: u.share, HighestAt: u.at, LowestAt: u.at})
			last++
		}
		c := &list[last]
		c.Levels, c.Mean = c.Levels+1, c.Mean.Add(u.share)
		if u.share.Cmp(c.Highest) > 0 {
			c.Highest, c.HighestAt = u.share, u.at
		}
		if u.share.Cmp(c.Lowest) < 0 {
			c.Lowest, c.LowestAt = u.share, u.at
		}
	}
	for i := range list {
		list[i].Mean = list[i].Mean.Div(units.Int(int64(list[i].Levels)))
	}
	return list
}

// levelUses lists the supply levels by cell, rack and level.
func levelUses(racks []structure.Rack, lanes []Lane, guide units.Length) []levelUse {
	used := map[Spot]units.Length{}
	for _, l := range lanes {
		if l.Kind == plant.Supply && !l.Empty() {
			used[Spot{Rack: l.Rack, Level: l.Level}] += l.Width + guide
		}
	}
	var list []levelUse
	for _, r := range racks {
		for _, l := range r.Levels {
			if l.Kind == plant.Supply && l.UsableWidth > 0 {
				at := Spot{Rack: r.Rack, Level: l.Level.Level}
				list = append(list, levelUse{r.Cell, r.Type.RackType, at, used[at].Ratio().Div((l.UsableWidth + guide).Ratio())})
			}
		}
	}
	slices.SortFunc(list, func(a, b levelUse) int { return cmp.Or(cmp.Compare(a.cell, b.cell), compareSpots(a.at, b.at)) })
	return list
}

// crammedPercent and emptyPercent are the uses that call for a note (common
// practice, no source).
const (
	crammedPercent = 95
	emptyPercent   = 30
)

// uneven notes cells in which a level is used to more than 95 % while another of
// the same type of rack is used to less than 30 %.
func uneven(racks []structure.Rack, lanes []Lane, guide units.Length) finding.List {
	type kind struct {
		cell plant.CellCode
		of   plant.RackTypeCode
	}
	most, least := map[kind]levelUse{}, map[kind]levelUse{}
	var kinds []kind
	for _, u := range levelUses(racks, lanes, guide) {
		k := kind{u.cell, u.of}
		if _, seen := most[k]; !seen {
			kinds, most[k], least[k] = append(kinds, k), u, u
		}
		if u.share.Cmp(most[k].share) > 0 {
			most[k] = u
		}
		if u.share.Cmp(least[k].share) < 0 {
			least[k] = u
		}
	}
	var list finding.List
	for _, k := range kinds {
		if high, low := most[k], least[k]; high.share.Cmp(units.R(crammedPercent, 100)) > 0 && low.share.Cmp(units.R(emptyPercent, 100)) < 0 {
			list = append(list, unevenNote(high, low))
		}
	}
	return list
}

func unevenNote(high, low levelUse) finding.Finding {
	percent := func(r units.Ratio) float64 { return 100 * r.Float64() }
	return finding.Finding{
		Severity: finding.Note, Code: CodeUneven, Subject: finding.Subject{Cell: string(high.cell), RackType: string(high.of), Rack: string(high.at.Rack), Level: high.at.Level},
		Summary: fmt.Sprintf("Cell %s: level %d of rack %s is filled to %.0f %%, level %d of rack %s to %.0f %%", high.cell, high.at.Level, high.at.Rack, percent(high.share), low.at.Level, low.at.Rack, percent(low.share)),
		Detail:  "Both racks are of one type. The full level has no room for another lane when a loop grows. Least effort, heights and masses may ask for it all the same.",
		Remedy:  "Set a fill limit if the levels should have room to grow, or pin a loop to the emptier level.",
		Measure: &finding.Measure{Value: percent(high.share), Limit: crammedPercent, Unit: "%"}, Source: "common practice, no source",
	}
}
