package scale

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// netHours of a day with both shifts.
const netHours = 15.0

// laneLength, guide and usable (of one rack FR-18) estimate the racks that a
// cell needs, in mm.
const (
	laneLength = 1400.0
	guide      = 30.0
	usable     = 3 * 1770.0
)

// cell makes up cell number i with n loops, its stations and racks.
func (m *maker) cell(i, n int, grid *floor) {
	r := m.stream("cell", i)
	code := plant.CellCode(fmt.Sprintf("C%03d", i+1))
	mix := m.mix(r, i)
	interval := time.Duration(0)
	if r.IntN(8) == 0 {
		interval = 30 * time.Minute
	}
	stations := make([]plant.StationCode, max(1, (n+4)/8))
	for s := range stations {
		stations[s] = plant.StationCode(fmt.Sprintf("%02d0", s+1))
	}
	width := 0.0
	for k := range n {
		width += m.loop(r, loopPlace{code, stations[k%len(stations)], interval, mix}, k)
	}
	enough := 1.12
	if r.IntN(6) == 0 {
		enough = 0.85
	}
	racks := max(1, int(math.Ceil(width*enough/usable)))
	m.floorOf(i, code, stations, racks, grid)
	m.p.Cells = append(m.p.Cells, plant.Cell{
		Cell: code, Name: fmt.Sprintf("Assembly cell %d", i+1), Area: fmt.Sprintf("Hall %c", 'A'+i/50%26),
		Frontage:  whole(int64(racks*1850) + int64(1+r.IntN(3))*1850),
		RackTypes: []plant.RackTypeCode{"FR-12", "FR-18"},
	})
}

// mix picks the products of cell i: neighbours on the list, so that each
// product runs through several cells.
func (m *maker) mix(r *rand.Rand, i int) []plant.Product {
	all := m.p.Products
	n := min(len(all), 3+r.IntN(4))
	mix := make([]plant.Product, n)
	for k := range mix {
		mix[k] = all[(i/3+k)%len(all)]
	}
	return mix
}

// loopPlace is where a loop is used and by what.
type loopPlace struct {
	cell     plant.CellCode
	station  plant.StationCode
	interval time.Duration
	mix      []plant.Product
}

// loop adds one point of use and returns the width of lanes it will need, in
// mm, about.
func (m *maker) loop(r *rand.Rand, at loopPlace, k int) float64 {
	uses, hourly := m.uses(r, at)
	part := m.part(r, at, k, hourly)
	for _, u := range uses {
		u.Part = part.Part
		m.p.Usage = append(m.p.Usage, u)
	}
	boxed := hourly / float64(part.Pack)
	m.perHour += boxed
	interval := at.interval
	if interval == 0 {
		interval = time.Hour
	}
	return laneWidth(boxed*2*interval.Hours(), m.boxes[part.Container])
}

// uses makes up rows of use by one to four products of the cell's mix.
func (m *maker) uses(r *rand.Rand, at loopPlace) (rows []plant.Usage, hourly float64) {
	first, n := r.IntN(len(at.mix)), 1+r.IntN(min(4, len(at.mix)))
	each := []int64{1, 1, 1, 2, 2, 3, 4, 6}[r.IntN(8)]
	model := plant.DefaultModel
	if r.IntN(20) == 0 {
		model = plant.PoissonModel
	}
	for k := range n {
		p := at.mix[(first+k)%len(at.mix)]
		rows = append(rows, plant.Usage{
			Product: p.Product, Cell: at.cell, Station: at.station, PerUnit: units.Int(each), Interval: at.interval, Model: model,
		})
		hourly += float64(each) * p.UnitsPerDay.Float64() / netHours
	}
	return rows, hourly
}

// part returns a common part now and then, else makes up a new one whose pack
// suits the hourly use.
func (m *maker) part(r *rand.Rand, at loopPlace, k int, hourly float64) plant.Part {
	if len(m.common) > 20 && r.IntN(8) == 0 {
		p := m.p.Parts[m.common[r.IntN(len(m.common))]]
		if m.take(p.Part, at) {
			return p
		}
	}
	p := madeUp(r, at.cell, k, hourly)
	switch last := len(m.p.Parts); {
	case r.IntN(30) == 0:
		p.KeepApart = fmt.Sprintf("%s-%d", at.cell, r.IntN(3)+1)
	case k > 0 && r.IntN(40) == 0:
		p.LookAlike = m.p.Parts[last-1].Part
	}
	if p.Pack >= 100 && len(m.common) < 400 {
		m.common = append(m.common, len(m.p.Parts))
	}
	m.p.Parts = append(m.p.Parts, p)
	m.take(p.Part, at)
	return p
}

// take notes that a part is used at a station; it is false when it was already.
func (m *maker) take(part plant.PartCode, at loopPlace) bool {
	u := use{part, plant.StationKey{Cell: at.cell, Station: at.station}}
	if m.used[u] {
		return false
	}
	m.used[u] = true
	return true
}

func madeUp(r *rand.Rand, cell plant.CellCode, k int, hourly float64) plant.Part {
	kinds := boxes()
	kind := kinds[r.IntN(len(kinds))]
	wanted := math.Exp(-1.9 + 2.2*r.Float64()) // 0.15 to 1.35 containers an hour
	pack := min(kind.most, max(kind.least, int64(math.Round(hourly/wanted))))
	grams := int64(1000 * (3 + 8*r.Float64() - kind.EmptyMass.KG()) / float64(pack))
	return plant.Part{
		Part:        plant.PartCode(fmt.Sprintf("%s-%04d", cell, k+1)),
		Description: nouns[r.IntN(len(nouns))] + ", " + finishes[r.IntN(len(finishes))],
		PieceMass:   units.Mass(min(4000, max(2, grams))) * units.Gram,
		Container:   kind.Container.Container, Pack: pack,
		MarketAddress: fmt.Sprintf("M-%02d-%02d-%d", r.IntN(40)+1, r.IntN(30)+1, r.IntN(4)+1),
		UnitCost:      units.Money(r.IntN(4000)+10) * units.Unit / 100,
	}
}

var (
	nouns    = []string{"Bracket", "Housing", "Cover", "Gasket", "Lead", "Board", "Clamp", "Spacer", "Screw set", "Label", "Spring", "Bushing", "Plate", "Lens", "Cap"}
	finishes = []string{"left", "right", "upper", "lower", "black", "grey", "zinc", "short", "long", "wide"}
)

// laneWidth estimates, in mm of rack, what a loop needs that uses so many
// containers over the two intervals it must live through.
func laneWidth(boxed float64, c plant.Container) float64 {
	loop := max(2, math.Ceil(boxed*1.25)+1)
	deep := max(1, math.Floor(laneLength/c.Length.MM()))
	return math.Ceil(loop/deep) * (c.Width.MM() + guide)
}
