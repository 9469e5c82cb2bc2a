package skerrow

import (
	"fmt"
	"strconv"
	"strings"
)

// part is one part of the works.
type part struct {
	code, text, container string
	pack                  int
	kg                    float64
	apart, alike          string
}

// loop is one point of use and the products that use it; direct is pieces per
// hour where no product does.
type loop struct {
	part          *part
	cell, station string
	products      []string
	each          float64
	direct        float64
}

// stock is every part and point of use, in the order of the catalogue.
type stock struct {
	parts []*part
	loops []loop
}

// gather reads the catalogue, then adds what many cells use.
func gather() *stock {
	s := &stock{}
	for _, block := range catalogue {
		for _, line := range strings.Split(strings.TrimSpace(block.families), "\n") {
			s.family(block.cell, strings.Split(line, "|"))
		}
	}
	for _, c := range common {
		s.shared(c)
	}
	s.spares()
	s.keepApart()
	return s
}

// family adds the variants of one line of the catalogue.
func (s *stock) family(cell string, f []string) {
	for i, variant := range strings.Split(f[2], ";") {
		text, uses, _ := strings.Cut(variant, ">")
		p := &part{
			code: fmt.Sprintf("%s-%c", f[0], 'A'+i), text: f[1], container: f[3],
			pack: int(amount(f[4])), kg: amount(f[5]),
		}
		if strings.Contains(f[1], "%s") {
			p.text = fmt.Sprintf(f[1], text)
		}
		s.parts = append(s.parts, p)
		for _, station := range strings.Split(f[7], ",") {
			s.loops = append(s.loops, loop{part: p, cell: cell, station: station, products: productList(uses), each: amount(f[6])})
		}
	}
}

func productList(uses string) []string {
	if uses == "*" {
		return []string{"RF90", "RF160", "HB60", "SK12", "SK20", "TD5", "MB4"}
	}
	return strings.Split(uses, ",")
}

// commonPart is a part that several cells use.
type commonPart struct {
	code, text, container string
	pack                  int
	kg, each              float64
	first                 bool
	cells                 string
}

// common are parts of no family: their codes are from the old system, zeros in
// front and all. Each is used at the first or last station of several cells;
// the service kit is only sold.
var common = []commonPart{
	{"00110", "Washer M5 A4", "B32-15", 1500, 0.003, 2, true, "REEF-1 REEF-2 HARB SKER-1 SKER-2 MAST HORN"},
	{"00111", "Washer M6 A4", "B32-15", 1200, 0.004, 2, true, "REEF-1 REEF-2 HARB SKER-1 SKER-2 TIDE HORN"},
	{"00117", "Cable tie 150 mm", "CTN-32", 800, 0.005, 2, false, "OPTIC DRIVE REEF-1 REEF-2 HARB MAST HORN"},
	{"00120", "Serial label", "CTN-32", 900, 0.004, 1, false, "REEF-1 REEF-2 HARB SKER-1 SKER-2 TIDE MAST"},
	{"00123", "Thread tape, 12 m", "CTN-32", 120, 0.03, 0.05, true, "REEF-1 REEF-2 HARB SKER-2 MAST HORN SEAL"},
	{"00131", "Grease sachet, 5 g", "CTN-32", 400, 0.012, 1, false, "LENS REEF-1 REEF-2 HARB SKER-1 TIDE HORN"},
	{"1E5", "Glove, size 9, pair", "CTN-43", 100, 0.05, 0.02, true, "LENS OPTIC DRIVE CABLE TIDE MAST PACK"},
	{"4499-A", "Service kit, seals", "B43-15", 30, 0.21, 0, false, ""},
	{"3-4", "Cable lug 3-4 mm2", "B32-15", 700, 0.006, 2, false, "OPTIC DRIVE REEF-2 SKER-2 CABLE MAST SEAL"},
}

func (s *stock) shared(c commonPart) {
	p := &part{code: c.code, text: c.text, container: c.container, pack: c.pack, kg: c.kg}
	s.parts = append(s.parts, p)
	for _, name := range strings.Fields(c.cells) {
		cell := cellNamed(name)
		station := "010"
		if !c.first {
			station = stationCode(cell.stations - 1)
		}
		s.loops = append(s.loops, loop{part: p, cell: name, station: station, products: strings.Fields(cell.products), each: c.each})
	}
}

// spares are sold on their own from the packing cell: no product uses them
// there.
func (s *stock) spares() {
	for _, spare := range []struct {
		code   string
		hourly float64
	}{{"3209-A", 6}, {"3306-A", 22.5}, {"3712-A", 2}, {"4105-A", 1.25}, {"4499-A", 12}} {
		s.loops = append(s.loops, loop{part: s.part(spare.code), cell: "PACK", station: "050", direct: spare.hourly})
	}
}

// keepApart names what people have mixed up before.
func (s *stock) keepApart() {
	for _, p := range s.parts {
		switch p.code[:min(4, len(p.code))] {
		case "3106":
			p.apart = "GASKET"
		case "3406", "3506":
			p.apart = "ORING"
		}
	}
	for _, pair := range [][2]string{
		{"3103-A", "3103-B"}, {"3306-A", "3306-B"}, {"3408-A", "3408-B"},
		{"3709-A", "3709-B"}, {"3901-A", "3901-B"}, {"4304-A", "4304-B"},
	} {
		s.part(pair[1]).alike = pair[0]
	}
}

// part finds a part of the catalogue.
func (s *stock) part(code string) *part {
	for _, p := range s.parts {
		if p.code == code {
			return p
		}
	}
	panic("catalogue has no part " + code)
}

// amount reads a number of the catalogue.
func amount(s string) float64 {
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("catalogue: " + err.Error())
	}
	return f
}
