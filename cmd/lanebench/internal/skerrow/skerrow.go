// Package skerrow makes up Skerrow Lantern Works, which builds marine
// navigation lanterns and buoy lights: the whole plant as the workbook that
// its people would hand over, with their habits and honest mistakes. Nothing
// in it is real. It is the same every time.
package skerrow

import (
	"fmt"
	"io"
	"strings"

	"lanewright/importers/export"
)

// Seed is that of the plant sheet and of the history made up here.
const Seed uint64 = 1871

// Write writes the workbook of the works as xlsx.
func Write(w io.Writer) error { return export.WriteXLSX(w, Tables()) }

// Tables returns the sheets of the works.
func Tables() []export.Table {
	s := gather()
	tables := []export.Table{
		settings(), shifts(), products(), s.usage(), history(), s.partList(), containerList(),
		cellList(), stations(), types(), levels(), s.racks(), points(), aisles(), vehicles(), s.layout(), s.pins(),
	}
	return tables
}

func sheet(name string, header ...string) *export.Table {
	return &export.Table{Sheet: name, Header: header}
}

func settings() export.Table {
	t := sheet("Plant", "Setting", "Value")
	t.Rows = [][]any{
		{"Plant name", "Skerrow Lantern Works"}, {"Length unit", "mm"}, {"Mass unit", "kg"},
		{"Time zone", "Europe/London"}, {"Refill interval (min)", 60}, {"Service level (%)", 99.5}, {"Safety (%)", 5},
		{"Lane side clearance (mm)", 10}, {"Guide width (mm)", 10}, {"Hand clearance (mm)", 60},
		{"Fill limit of levels (%)", 95}, {"Load limit of a round (%)", 90}, {"Busy limit of a handler (%)", 85},
		{"Random seed", Seed},
	}
	return *t
}

// shifts overlap for half an hour; the early one's team talk runs into its
// lunch, the late one's last break past its end.
func shifts() export.Table {
	t := sheet("Shifts", "Shift", "Days", "Start", "End", "Break start", "Break minutes")
	t.Rows = [][]any{
		{"Early", "Mon-Fri", "06:00", "14:30", "09:00", 15},
		{"Early", "Mon-Fri", "06:00", "14:30", "12:00", 30},
		{"Early", "Mon-Fri", "06:00", "14:30", "12:20", 15},
		{"Late", "Mon-Fri", "14:00", "22:30", "17:30", 30},
		{"Late", "Mon-Fri", "14:00", "22:30", "20:30", 10},
		{"Late", "Mon-Fri", "14:00", "22:30", "22:20", 20},
	}
	return *t
}

func products() export.Table {
	t := sheet("Products", "Product", "Description", "Units per day", "Variation", "Cell")
	for _, p := range productMix {
		t.Rows = append(t.Rows, []any{p.code, p.text, p.perDay, p.variation, p.cell})
	}
	return *t
}

// partList has a column that no plan needs, one part twice, and one that
// nobody uses any more.
func (s *stock) partList() export.Table {
	t := sheet("Parts", "Part", "Description", "Piece mass (kg)", "Container", "Standard pack", "Market address",
		"Unit cost", "Pick hand", "Keep apart", "Look-alike of", "Buyer")
	for i, p := range s.parts {
		t.Rows = append(t.Rows, p.row(i))
		if p.code == "3410-A" {
			t.Rows = append(t.Rows, p.row(i))
		}
	}
	t.Rows = append(t.Rows, []any{"3199-A", "Glass lens, before the change to acrylic", 1.1, "B64-15", 8, "W-40-01-A", 38.5, "two", nil, nil, "KM"})
	return *t
}

func (p *part) row(i int) []any {
	hand := "one"
	if p.kg > 1 {
		hand = "two"
	}
	text := p.text
	if odd, ok := oddTexts[p.code]; ok {
		text = odd
	}
	code, box := p.code, p.container
	if p.code == "3204-A" {
		box = "b43-28 "
	}
	return []any{
		code, text, p.kg, box, p.pack, address(p, i), float64(25+37*i%900) / 100, hand,
		blank(p.apart), blank(alikes(p)), []string{"KM", "JO", "SD"}[i%3],
	}
}

// address is north for what is heavy or large, west for the rest.
func address(p *part, i int) string {
	side := "W"
	if p.container == "B64-28" || p.container == "CTN-50" || p.container == "CRATE-T" {
		side = "N"
	}
	return fmt.Sprintf("%s-%02d-%02d-%c", side, i/12+1, i%12+1, 'A'+i%4)
}

func blank(s string) any {
	if s == "" {
		return nil
	}
	return s
}

func containerList() export.Table {
	t := sheet("Containers", "Container", "Description", "Length", "Width", "Height", "Empty mass", "Gross mass limit",
		"Returnable", "Flow side", "Handles", "Nests")
	for _, c := range containers() {
		t.Rows = append(t.Rows, []any{c.code, c.text, c.length, c.width, c.height, c.empty, c.limit, c.back, c.flow, c.handles, c.nests})
	}
	return *t
}

func cellList() export.Table {
	t := sheet("Cells", "Cell", "Name", "Area", "Shifts", "Frontage (m)", "Rack types allowed", "New rack X", "New rack Y", "New rack aisle point")
	for _, c := range cells {
		row := []any{c.code, c.name, c.area, blank(c.shifts), nil, blank(c.allowed), nil, nil, nil}
		if c.frontage > 0 {
			row[4] = c.frontage
		}
		if c.code == "REEF-1" {
			row[6], row[7], row[8] = round(c.x+c.long()/2), c.aisle+2*c.side, stopCode(c, 2)
		}
		t.Rows = append(t.Rows, row)
	}
	return *t
}

func stations() export.Table {
	t := sheet("Stations", "Station", "Cell", "X", "Y", "Walk limit")
	for _, c := range cells {
		for i := range c.stations {
			x, y := c.stationAt(i)
			t.Rows = append(t.Rows, []any{stationCode(i), c.code, x, y, walkLimits[c.code]})
		}
	}
	return *t
}

// walkLimits are those that differ from the usual 5 m.
var walkLimits = map[string]any{"SKER-1": 6, "REEF-2": "18 ft"}

func types() export.Table {
	t := sheet("Rack types", "Rack type", "Width", "Depth", "Height", "Own mass", "Mass limit", "Cost", "On casters", "Kit")
	for _, r := range rackTypes() {
		t.Rows = append(t.Rows, []any{r.code, r.width, r.depth, r.height, r.own, r.limit, r.cost, r.casters, "tube-28"})
	}
	return *t
}

func levels() export.Table {
	t := sheet("Levels", "Rack type", "Level", "Kind", "Pick height", "Drop", "Lane length", "Usable width", "Clear height", "Mass limit")
	for _, r := range rackTypes() {
		for i, l := range r.levels {
			t.Rows = append(t.Rows, []any{r.code, i + 1, l.kind, l.pick, l.drop, l.lane, l.width, l.clear, l.limit})
		}
	}
	return *t
}

// fixedGuides are racks whose guides are welded, by rack.
var fixedGuides = map[string]string{
	"OPTIC-02": "2: 320, 320, 320, 320, 320; 3: 416, 416, 416, 416",
	"DRIVE-04": "3: 320, 320, 320, 320, 320",
	"PACK-02":  "2: 320, 320, 320, 320, 320; 4: 220, 220, 220, 220, 220, 220, 220",
}

// racks serve the stations within an easy walk; most rows leave the list to
// the walk limit.
func (s *stock) racks() export.Table {
	t := sheet("Racks", "Rack", "Rack type", "Cell", "Stations", "X", "Y", "Aisle point", "Fixed lanes (mm)", "Painted")
	for _, c := range cells {
		for i, r := range racksOf(c) {
			serves := any(nil)
			if i%3 == 1 {
				serves = strings.Join(r.serves(), ", ")
			}
			t.Rows = append(t.Rows, []any{r.code, typeLetter(r.letter).code, c.code, serves, r.x, r.y, r.stop, blank(fixedGuides[r.code]), "grey"})
		}
	}
	return *t
}
