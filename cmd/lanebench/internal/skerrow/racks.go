package skerrow

import "math"

// rackType is a design of rack as its drawing states it: one in inches, the
// others in mm.
type rackType struct {
	letter, code         string
	width, depth, height any
	own, limit           any
	cost                 int
	casters              string
	levels               []level
	// metres is the width and usable the width of a supply level in m, length
	// its lanes, for laying out what stands today.
	metres, usable, length float64
}

// level is one row of the sheet Levels.
type level struct {
	kind                    string
	pick, drop, lane, width any
	clear                   any
	limit                   any
	// tall is the clear height in mm.
	tall float64
}

// rackTypes are the five designs that the works has bought over the years.
func rackTypes() []rackType {
	return []rackType{
		{letter: "A", code: "FR-A", width: 1250, depth: 1250, height: 1950, own: 48, limit: 650, cost: 820, casters: "no",
			metres: 1.25, usable: 1180, length: 1150, levels: []level{
				{"return", 340, -50, 1150, 1180, 365, 90, 365},
				{"supply", 720, 50, 1150, 1180, 350, 180, 350},
				{"supply", 1110, 50, 1150, 1180, 350, 180, 350},
				{"supply", 1500, 50, 1150, 1180, 230, 140, 230}}},
		{letter: "B", code: "FR-B", width: 1830, depth: 1500, height: 2000, own: 66, limit: 900, cost: 1080, casters: "no",
			metres: 1.83, usable: 1750, length: 1400, levels: []level{
				{"return", 340, -62, 1400, 1750, 365, 120, 365},
				{"supply", 730, 65, 1400, 1750, 350, 260, 350},
				{"supply", 1120, 65, 1400, 1750, 350, 260, 350},
				{"supply", 1510, 65, 1400, 1750, 350, 200, 350}}},
		{letter: "C", code: "FR-C", width: 2440, depth: 1830, height: 2100, own: 92, limit: 1300, cost: 1490, casters: "no",
			metres: 2.44, usable: 2350, length: 1730, levels: []level{
				{"return", 340, -75, 1730, 2350, 365, 160, 365},
				{"supply", 730, 80, 1730, 2350, 350, 360, 350},
				{"supply", 1120, 80, 1730, 2350, 350, 360, 350},
				// Measured along the slope and with the overhang: longer than the rack.
				{"supply", 1510, 85, 1850, 2350, 350, 300, 350}}},
		{letter: "D", code: "BENCH-D", width: 1250, depth: 900, height: 1600, own: 35, limit: 300, cost: 560, casters: "yes",
			metres: 1.25, usable: 1180, length: 830, levels: []level{
				{"return", 420, -35, 830, 1180, 300, 60, 300},
				{"supply", 800, 36, 830, 1180, 350, 120, 350},
				// Too flat: people push the last tote.
				{"supply", 1200, 18, 830, 1180, 230, 100, 230}}},
		{letter: "E", code: "US-72", width: "72 in", depth: "60 in", height: "78 in", own: "150 lb", limit: "2000 lb", cost: 1190, casters: "no",
			metres: 1.829, usable: 1739.9, length: 1397, levels: []level{
				{"return", "12 in", "-2 1/2 in", "55 in", "68 1/2 in", "12 in", "260 lb", 304.8},
				{"supply", "26 in", "2 1/2 in", "55 in", "68 1/2 in", "14 in", "560 lb", 355.6},
				{"supply", "41 in", "2 1/2 in", "55 in", "68 1/2 in", "14 in", "560 lb", 355.6},
				// Too steep: set by eye after a tote had stuck.
				{"supply", "56 in", "5 3/4 in", "55 in", "68 1/2 in", "14 in", "440 lb", 355.6}}},
	}
}

func typeLetter(letter string) rackType {
	for _, t := range rackTypes() {
		if t.letter == letter {
			return t
		}
	}
	panic("no rack type " + letter)
}

// container is one kind of container; its measures as the sheet states them
// and in mm.
type container struct {
	code, text            string
	length, width, height any
	empty, limit          any
	back                  string
	flow, handles         string
	nests                 any
	long, wide, tall      float64
}

// containers are small load carriers of the common series by their outside
// measures, totes and a crate from the parent's stores, and cartons that do
// not come back.
func containers() []container {
	return []container{
		{"B64-28", "Small load carrier 600 x 400, high, folds", 594, 396, 280, 2.9, 20, "yes", "either", "good", 0.28, 594, 396, 280},
		{"B64-15", "Small load carrier 600 x 400, low, folds", 594, 396, 147.5, 1.9, 20, "yes", "either", "good", 0.4, 594, 396, 147.5},
		{"B43-28", "Small load carrier 400 x 300, high, folds", 396, 297, 280, 1.9, 20, "yes", "either", "good", 0.28, 396, 297, 280},
		{"B43-15", "Small load carrier 400 x 300, low, folds", 396, 297, 147.5, 1.25, 20, "yes", "either", "good", 0.4, 396, 297, 147.5},
		{"B32-15", "Small load carrier 300 x 200, low, nests", 297, 198, 147.5, 0.57, 15, "yes", "either", "good", 0.5, 297, 198, 147.5},
		{"T-1512", "Tote, stacks and nests", "15 1/4 in", "12 in", "7 1/2 in", "2.8 lb", "40 lb", "yes", "length", "fair", 0.4, 387.35, 304.8, 190.5},
		{"T-2415", "Tote, long", "24 in", "15 in", "9 1/2 in", "5 lb", "45 lb", "yes", "length", "fair", 0.4, 609.6, 381, 241.3},
		{"CRATE-T", "Steel crate for tower parts", 780, 580, 620, 9.5, 60, "yes", "length", "poor", nil, 780, 580, 620},
		{"CTN-32", "Carton 300 x 200 x 150", 300, 200, 150, 0.2, 12, "no", "either", "poor", nil, 300, 200, 150},
		{"CTN-43", "Carton 400 x 300 x 200", 400, 300, 200, 0.35, 15, "no", "either", "poor", nil, 400, 300, 200},
		{"CTN-50", "Carton 500 x 350 x 250", 500, 350, 250, 0.5, 18, "no", "either", "poor", nil, 500, 350, 250},
		{"B21-10", "Small load carrier 200 x 150, given up in spring", 198, 148, 95, 0.2, 5, "yes", "either", "fair", nil, 198, 148, 95},
	}
}

func containerNamed(code string) container {
	for _, c := range containers() {
		if c.code == code {
			return c
		}
	}
	panic("no container " + code)
}

// productMix is what the works builds; the history says how steadily.
var productMix = []struct {
	code, text string
	perDay     int
	variation  any
	cell       any
}{
	{"RF90", "Reef 90 LED lantern", 480, 0.12, nil},
	{"RF160", "Reef 160 LED lantern", 230, 0.18, nil},
	{"HB60", "Harbour 60 leading light", 140, 0.3, nil},
	{"SK12", "Skerry 12 buoy light", 640, 0.1, nil},
	{"SK20", "Skerry 20 solar buoy light", 340, 0.15, nil},
	{"TD5", "Tide 5 tender lamp", 900, nil, nil},
	{"MB4", "Masthead 4 beacon", 260, 0.25, nil},
	{"FH3", "Foghorn 3 sounder", 110, 0.2, "HORN"},
}

// netHours of a day with both shifts, breaks taken out.
const netHours = 15.33

// hourly is the pieces that a loop uses in a net hour.
func (l loop) hourly() float64 {
	sum := l.direct
	for _, p := range productMix {
		for _, used := range l.products {
			if used == p.code {
				sum += float64(p.perDay) * l.each / netHours
			}
		}
	}
	return sum
}

// standing estimates the containers of a loop for two intervals.
func (l loop) standing() int {
	hours := 2.0
	if l.wishes()[0] == 30 {
		hours = 1
	}
	return max(2, int(math.Ceil(l.hourly()*hours*1.2/float64(l.part.pack)))+1)
}
