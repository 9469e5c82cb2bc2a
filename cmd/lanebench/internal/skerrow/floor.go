package skerrow

import (
	"fmt"
	"math"
	"slices"
)

// cell is a cell on the map of the hall, which is 120 m long and 70 m wide.
type cell struct {
	code, name, area string
	stations         int
	// x is the west end of its racks, aisle the y of the aisle that serves
	// them, side 1 when they stand north of it and -1 when south.
	x, aisle, side float64
	// racks are the letters of its rack types from west to east.
	racks, products, shifts string
	// frontage in m and types allowed; 0 and empty are no limit.
	frontage float64
	allowed  string
}

// cells of the works, as the plant lists them.
var cells = []cell{
	{"LENS", "Lens preparation", "Optics", 4, 8, 6, 1, "ABBAA", "RF90 RF160 HB60 SK12 SK20 TD5 MB4", "", 9.5, ""},
	{"OPTIC", "Optics and LED boards", "Optics", 5, 37, 6, 1, "ABBBA", "RF90 RF160 HB60 SK12 SK20", "", 0, ""},
	{"DRIVE", "Drivers and power", "Electronics", 4, 66, 6, 1, "ABABD", "RF90 RF160 HB60 SK12 SK20 MB4", "", 12, "FR-A, FR-B"},
	{"CABLE", "Cable looms", "Electronics", 4, 94, 6, 1, "DDADA", "RF90 RF160 HB60 SK12 SK20 MB4", "", 9, "FR-A, BENCH-D"},
	{"REEF-1", "Reef 90 assembly", "Assembly west", 5, 8, 22, 1, "BCBEB", "RF90", "", 14, ""},
	{"REEF-2", "Reef 160 assembly", "Assembly west", 5, 37, 22, 1, "BCBEB", "RF160", "", 14.5, "FR-B, FR-C"},
	{"HARB", "Harbour light assembly", "Assembly middle", 4, 66, 38, -1, "ADABA", "HB60", "", 0, ""},
	{"HORN", "Foghorn assembly", "Assembly east", 4, 94, 22, -1, "ABADE", "FH3", "Early", 0, ""},
	{"SKER-1", "Skerry 12 line", "Assembly west", 5, 8, 38, 1, "BBCBB", "SK12", "", 17, "FR-B, FR-C"},
	{"SKER-2", "Skerry 20 line", "Assembly middle", 4, 37, 38, 1, "BABAB", "SK20", "", 14, "FR-A, FR-B, FR-C"},
	{"MAST", "Masthead beacons", "Assembly middle", 4, 74, 38, 1, "ADABA", "MB4", "", 0, ""},
	{"TIDE", "Tide 5 tender lamps", "Assembly east", 4, 97, 38, 1, "ADADE", "TD5", "", 7, ""},
	{"SEAL", "Test and seal", "Finish", 4, 37, 54, 1, "DADAD", "RF90 RF160 HB60 SK12 SK20 TD5 MB4", "Early", 9, "FR-A, FR-B"},
	{"PACK", "Pack and kit", "Finish", 5, 66, 54, 1, "BBABB", "RF90 RF160 HB60 SK12 SK20 TD5 MB4", "", 13, "FR-B"},
}

func cellNamed(code string) cell {
	i := slices.IndexFunc(cells, func(c cell) bool { return c.code == code })
	return cells[i]
}

func stationCode(i int) string { return fmt.Sprintf("%02d0", i+1) }

// gap between neighbouring racks in m.
const gap = 0.25

// rack is a rack that stands.
type rack struct {
	code, letter string
	cell         cell
	x, y         float64
	stop         string
}

// racksOf places the racks of a cell side by side along its aisle.
func racksOf(c cell) []rack {
	var list []rack
	x := c.x
	for i, letter := range c.racks {
		wide := typeLetter(string(letter)).metres
		r := rack{
			code: fmt.Sprintf("%s-%02d", c.code, i+1), letter: string(letter), cell: c,
			x: round(x + wide/2), y: c.aisle + 2*c.side,
		}
		r.stop = stopCode(c, 1)
		if i > len(c.racks)/2 {
			r.stop = stopCode(c, 2)
		}
		list = append(list, r)
		x += wide + gap
	}
	return list
}

// long is the length of a cell along its aisle.
func (c cell) long() float64 {
	total := -gap
	for _, letter := range c.racks {
		total += typeLetter(string(letter)).metres + gap
	}
	return total
}

// stationAt is where station i of a cell stands: behind its racks.
func (c cell) stationAt(i int) (x, y float64) {
	return round(c.x + c.long()*(float64(i)+0.5)/float64(c.stations)), round(c.aisle + 4.6*c.side)
}

// serves lists the stations within an easy walk of a rack.
func (r rack) serves() []string {
	var list []string
	for i := range r.cell.stations {
		x, y := r.cell.stationAt(i)
		if math.Hypot(x-r.x, y-r.y) <= 4.9 {
			list = append(list, stationCode(i))
		}
	}
	return list
}

func stopCode(c cell, n int) string { return fmt.Sprintf("S-%s-%d", c.code, n) }

// spot is an aisle point.
type spot struct {
	code string
	x, y float64
	kind string
}

var (
	eastings  = []float64{4, 33, 62, 91, 116}
	northings = []float64{6, 22, 38, 54}
)

// spots are the crossings of the aisles, the stops, two markets at the edge of
// the hall and a place to park.
func spots() []spot {
	var list []spot
	for j, y := range northings {
		for i, x := range eastings {
			list = append(list, spot{crossing(i, j), x, y, "crossing"})
		}
	}
	for _, c := range cells {
		for n := 1; n <= 2; n++ {
			list = append(list, spot{stopCode(c, n), round(c.x + c.long()*(0.5*float64(n)-0.25)), c.aisle, "stop"})
		}
	}
	return append(list,
		spot{"MKT-W", 1, 30, "market"}, spot{"MKT-N", 62, 67, "market"}, spot{"PARK", 118, 60, "parking"})
}

func crossing(i, j int) string { return fmt.Sprintf("X%d%c", i+1, 'A'+j) }

// way is an aisle; length 0 is the straight line.
type way struct {
	from, to      string
	length, limit float64
	oneWay        bool
}

// ways join neighbours along each aisle. The second runs east only and the
// third west only; past the canteen (X3) everybody drives slowly.
func ways() []way {
	var list []way
	for j, y := range northings {
		line := onLine(y)
		for i := 1; i < len(line); i++ {
			w := way{from: line[i-1].code, to: line[i].code, oneWay: j == 1 || j == 2}
			if j == 2 {
				w.from, w.to = w.to, w.from
			}
			list = append(list, w)
		}
	}
	for i := range eastings {
		for j := 1; j < len(northings); j++ {
			w := way{from: crossing(i, j-1), to: crossing(i, j)}
			if i == 2 {
				w.limit = 0.8
			}
			list = append(list, w)
		}
	}
	return append(list,
		way{from: "MKT-W", to: crossing(0, 1), length: 9.5}, way{from: crossing(0, 2), to: "MKT-W", length: 9.5, oneWay: true},
		way{from: "MKT-N", to: crossing(2, 3), limit: 1}, way{from: "PARK", to: crossing(4, 3)})
}

// onLine are the points of one aisle from west to east.
func onLine(y float64) []spot {
	var line []spot
	for _, s := range spots() {
		if s.y == y {
			line = append(line, s)
		}
	}
	slices.SortFunc(line, func(a, b spot) int {
		if a.x < b.x {
			return -1
		}
		return 1
	})
	return line
}

// round keeps the map to the centimetre.
func round(v float64) float64 { return math.Round(v*100) / 100 }
