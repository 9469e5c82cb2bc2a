package plant

import (
	"fmt"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Codes of findings about cells, stations and shifts.
const (
	CodeOverFrontage     = "cells.over-frontage"
	CodeDuplicateStation = "stations.duplicate"
	CodeStationNoUsage   = "stations.no-usage"
	CodeBreakOutside     = "shifts.break-outside"
	CodeNoNetTime        = "shifts.no-net-time"
)

func (c *checker) cells() {
	c.frontage()
	used := map[StationKey]bool{}
	for _, u := range c.p.Usage {
		used[StationKey{u.Cell, u.Station}] = true
	}
	for i := range c.p.Stations {
		s := &c.p.Stations[i]
		key := StationKey{s.Cell, s.Station}
		subject := finding.Subject{Cell: string(s.Cell), Station: string(s.Station)}
		if first := c.x.Stations[key]; first != s {
			c.add("Station", finding.Finding{
				Severity: finding.Error, Code: CodeDuplicateStation, Origin: s.Origin, Related: []finding.Origin{first.Origin}, Subject: subject,
				Summary: fmt.Sprintf("Station %s of cell %s stands twice", s.Station, s.Cell),
				Detail:  "A station code is unique within its cell; which of the two rows is meant can not be known.",
				Remedy:  "Rename one of the stations or take one row out.",
			})
			continue
		}
		if !used[key] {
			c.add("Station", finding.Finding{
				Severity: finding.Note, Code: CodeStationNoUsage, Origin: s.Origin, Subject: subject,
				Summary: fmt.Sprintf("Station %s of cell %s uses no part", s.Station, s.Cell),
				Detail:  "No row of use names it, so nothing is brought to it.",
				Remedy:  "Add what it uses, or take the station off the sheet.",
			})
		}
	}
}

// frontage sums the widths of the racks that stand along each cell.
func (c *checker) frontage() {
	width := map[CellCode]units.Length{}
	for _, r := range c.p.Racks {
		if t := c.x.RackTypes[r.RackType]; t != nil {
			width[r.Cell] += t.Width
		}
	}
	for _, cell := range c.p.Cells {
		if cell.Frontage <= 0 || width[cell.Cell] <= cell.Frontage {
			continue
		}
		c.add("Frontage", finding.Finding{
			Severity: finding.Warning, Code: CodeOverFrontage, Origin: cell.Origin, Subject: finding.Subject{Cell: string(cell.Cell)},
			Summary: fmt.Sprintf("The racks of cell %s are %s wide together, its frontage is %s", cell.Cell, width[cell.Cell], cell.Frontage),
			Detail:  "The racks that stand there are kept, but none can be added.",
			Remedy:  "Check the frontage and its unit, and which racks belong to the cell.",
			Measure: millimetres(width[cell.Cell], cell.Frontage),
		})
	}
}

func (c *checker) shifts() {
	for _, s := range c.p.Shifts {
		for _, b := range s.Breaks {
			if b.Start >= s.Start && b.Start+b.Length <= s.End {
				continue
			}
			o := b.Origin
			if o.IsZero() {
				o = s.Origin
			}
			c.add("Break start", finding.Finding{
				Severity: finding.Warning, Code: CodeBreakOutside, Origin: o,
				Summary: fmt.Sprintf("Shift %s works %s to %s, its break at %s of %s min does not lie inside", s.Shift, clock(s.Start), clock(s.End), clock(b.Start), units.Minutes(b.Length)),
				Detail:  "The part of a break outside its shift takes no working time away.",
				Remedy:  "Correct the break, or the start or end of the shift.",
			})
		}
	}
	c.netTime()
	if net, ok := shortest(c.p.Shifts); ok && c.p.Settings.Interval > net {
		c.add("", intervalFinding(c.p.Settings.Interval, net, c.p.Settings.Origin, finding.Subject{}, "Plant sheet"))
	}
}

// netTime wants a shift that works, in the plant and for each cell.
func (c *checker) netTime() {
	if !works(c.p.Shifts) {
		c.add("", noNetTime(finding.Origin{}, "No shift", finding.Subject{}))
		return
	}
	for _, cell := range c.p.Cells {
		if len(cell.Shifts) > 0 && !works(c.x.CellShifts(cell.Cell)) {
			c.add("Shifts", noNetTime(cell.Origin, "No shift of cell "+string(cell.Cell), finding.Subject{Cell: string(cell.Cell)}))
		}
	}
}

func noNetTime(o finding.Origin, name string, s finding.Subject) finding.Finding {
	return finding.Finding{
		Severity: finding.Error, Code: CodeNoNetTime, Origin: o, Subject: s,
		Summary: name + " has working time",
		Detail:  "Without net minutes there is no rate of use to plan for.",
		Remedy:  "Check the days, start, end and breaks of the shifts.",
	}
}

// works reports whether any of the shifts has a day and net time.
func works(shifts []Shift) bool {
	for _, s := range shifts {
		if s.Days != [7]bool{} && s.Net() > 0 {
			return true
		}
	}
	return false
}

// clock writes a time of day, "22:30"; a time on the next day says so.
func clock(t time.Duration) string {
	day := ""
	if t >= 24*time.Hour {
		t -= 24 * time.Hour
		day = " next day"
	}
	return fmt.Sprintf("%02d:%02d%s", int(t.Hours()), int(t.Minutes())%60, day)
}
