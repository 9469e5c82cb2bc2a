package export

import (
	"fmt"
	"math"

	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// A drawn rack is made of the sheet's own cells, so that it prints, can be searched and
// copied, and opens in any spreadsheet program: a column is frontStep wide, and a row
// as high as what it shows at the same scale, but for texts that need more.
const (
	frontSheet = "Rack fronts"
	frontStep  = 25 * units.Millimetre
	stepWidth  = 0.6 // of a character: 7 pixels
	stepPoints = 5.25
	leastFront = 34.0
	mostFront  = 400.0
	boardHigh  = 4.0
)

// frontsSheet draws each rack from its pick side, lanes as wide as they are.
func (r *report) frontsSheet(b *book) {
	sw := b.stream(frontSheet, true)
	if b.err != nil {
		return
	}
	wide := 1
	for _, l := range r.plan.Lanes {
		wide = max(wide, steps(l.Offset+l.Width))
	}
	b.note(sw.SetColWidth(1, 1, 22))
	b.note(sw.SetColWidth(2, wide+1, stepWidth))
	f := frontWriter{summaryWriter{book: b, sw: sw}, r, wide}
	for _, s := range []string{
		"Racks from the pick side: a lane shows its number, part and containers.",
		fmt.Sprintf("A narrow column is %v %s wide; rows are about to scale.", r.long(frontStep), r.lengthName),
	} {
		f.line(0, same(look{}), s)
	}
	for _, rack := range r.plan.Racks {
		f.rack(rack)
	}
	b.page(frontSheet, r.plan.Plant, "A1:"+cellName(wide+1, max(f.at, 1)), 0)
	b.note(sw.Flush())
}

// steps is how many columns a length takes.
func steps(l units.Length) int { return int(math.Round(float64(l) / float64(frontStep))) }

// frontWriter walks down the sheet of fronts.
type frontWriter struct {
	summaryWriter
	report *report
	wide   int
}

func (f *frontWriter) rack(rack structure.Rack) {
	f.at++
	title := string(rack.Rack)
	if rack.Proposed {
		title += " (to add)"
	}
	cells := make([]any, f.wide+1)
	cells[0], cells[1] = title, fmt.Sprintf("cell %s", rack.Cell)
	if rack.Type != nil {
		cells[1] = fmt.Sprintf("cell %s, type %s", rack.Cell, rack.Type.RackType)
	}
	f.line(0, same(look{bold: true, under: true, paper: paleWater}), cells...)
	byLevel := map[int][]placement.Lane{}
	for _, l := range f.report.byRack[rack.Rack] {
		byLevel[l.Level] = append(byLevel[l.Level], l)
	}
	for i := len(rack.Levels) - 1; i >= 0; i-- {
		l := rack.Levels[i]
		var above units.Length
		if i+1 < len(rack.Levels) {
			above = rack.Levels[i+1].PickHeight - l.PickHeight
		}
		f.level(l, byLevel[l.Level.Level], above)
		delete(byLevel, l.Level.Level)
	}
	for _, l := range f.report.byRack[rack.Rack] {
		if list := byLevel[l.Level]; list != nil { // of a rack type whose levels are not known
			f.level(structure.Level{Level: plant.Level{Level: l.Level, Kind: l.Kind}}, list, 0)
			delete(byLevel, l.Level)
		}
	}
}

// level is what is free over a level, its lanes, and its surface.
func (f *frontWriter) level(l structure.Level, lanes []placement.Lane, above units.Length) {
	var box units.Length
	for _, lane := range lanes {
		box = max(box, f.high(lane))
	}
	high := min(max(points(box), leastFront), mostFront)
	if gap := points(above) - high - boardHigh; gap >= 1 {
		f.line(min(gap, mostFront), same(look{}), make([]any, 1)...)
	}
	cells := make([]any, f.wide+1)
	cells[0] = styled{fmt.Sprintf("level %d, %s, at %v", l.Level.Level, l.Kind, f.report.long(l.PickHeight)), look{format: textFormat, right: true, wrap: true}}
	row := f.at + 1
	for _, lane := range lanes {
		first, last := steps(lane.Offset)+1, steps(lane.Offset+lane.Width)
		last = min(max(first, last), f.wide)
		for i := first; i <= last; i++ {
			cells[i] = styled{nil, f.looks(lane)}
		}
		cells[first] = styled{f.text(lane), f.looks(lane)}
		if last > first {
			f.note(f.sw.MergeCell(cellName(first+1, row), cellName(last+1, row)))
		}
	}
	f.line(high, same(look{}), cells...)
	board := make([]any, max(1, steps(l.UsableWidth))+1)
	f.line(boardHigh, func(i int) look {
		if i == 0 {
			return look{}
		}
		return look{paper: deepWater}
	}, board...)
}

// points is a height on the sheet.
func points(l units.Length) float64 { return float64(l) / float64(frontStep) * stepPoints }

// high is how high the container of a lane is.
func (f *frontWriter) high(lane placement.Lane) units.Length {
	if loop := f.report.loopOf[lane.Loop]; loop != nil && !lane.Empty() {
		if c := f.report.facts.Containers[loop.Container]; c != nil {
			return c.Height
		}
	}
	return 0
}

// looks are those of a lane: a framed cell, tinted where a part lies in it.
func (f *frontWriter) looks(lane placement.Lane) look {
	l := look{format: textFormat, wrap: true, frame: true, size: 8}
	if !lane.Empty() {
		l.paper = paleWater
	}
	return l
}

func (f *frontWriter) text(lane placement.Lane) string {
	here := fmt.Sprintf("%d-%d", lane.Level, lane.Lane)
	switch {
	case lane.Kind == plant.Return:
		return here + "\nreturn"
	case lane.Empty():
		return here + "\nfree"
	}
	return fmt.Sprintf("%s\n%s\n%d of %d", here, lane.Loop.Part, lane.Containers, lane.Capacity)
}
