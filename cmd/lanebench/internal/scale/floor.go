package scale

import (
	"fmt"
	"math"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// floor is the map: cells in blocks between aisles that run west to east, a
// cross aisle beside every block.
type floor struct {
	columns, rows int
	// wide and deep are the distances from block to block in mm.
	wide, deep int64
	markets    int
}

// standoff is from the middle of an aisle to the racks that face it; between
// the two rows of racks of a cell the stations stand in the middle.
const (
	standoff = 1800
	pitch    = 1900
	deep     = 9000
)

// newFloor lays out blocks for cells of so many loops, half again as wide as
// deep.
func newFloor(sizes []int) *floor {
	largest := 0
	for _, n := range sizes {
		largest = max(largest, n)
	}
	racks := largest/8 + 2
	f := &floor{wide: int64((racks+1)/2)*pitch + 4000, deep: deep, markets: 1 + len(sizes)/200}
	f.columns = max(1, int(math.Round(math.Sqrt(float64(len(sizes))*float64(f.deep)/float64(f.wide)))))
	f.rows = (len(sizes) + f.columns - 1) / f.columns
	return f
}

// middle is the west-east middle of block i and the aisle south of it.
func (f *floor) middle(i int) (x int64, row int) {
	return int64(i%f.columns)*f.wide + f.wide/2, i / f.columns
}

func stopPoint(row, column int) plant.PointCode {
	return plant.PointCode(fmt.Sprintf("S%02d-%02d", row, column))
}

func crossPoint(row, column int) plant.PointCode {
	return plant.PointCode(fmt.Sprintf("X%02d-%02d", row, column))
}

// floorOf places the stations of cell i in the middle of its block and its
// racks in two rows that face the aisles south and north of it.
func (m *maker) floorOf(i int, cell plant.CellCode, stations []plant.StationCode, racks int, f *floor) {
	x, row := f.middle(i)
	column := i % f.columns
	half := int64((racks+1)/2) * pitch / 2
	y := int64(row) * f.deep
	reach := max(5000, half*13/10+2700)
	for s, code := range stations {
		at := x - half + half*int64(2*s+1)/int64(len(stations))
		m.p.Stations = append(m.p.Stations, plant.Station{
			Station: code, Cell: cell, Place: spot(at, y+f.deep/2), WalkLimit: whole(reach / 100 * 100),
		})
	}
	for k := range racks {
		side, at := k%2, x-half+pitch*int64(k/2)+pitch/2
		m.p.Racks = append(m.p.Racks, plant.Rack{
			Rack: plant.RackCode(fmt.Sprintf("%s-R%02d", cell, k+1)), RackType: "FR-18", Cell: cell,
			Place:      spot(at, y+standoff+int64(side)*(f.deep-2*standoff)),
			AislePoint: stopPoint(row+side, column),
		})
	}
}

// draw adds aisle points and aisles: every third aisle is one way, east and
// west by turns, cross aisles go both ways and some are slow.
func (f *floor) draw(p *plant.Plant) {
	for row := range f.rows + 1 {
		y := int64(row) * f.deep
		for column := range f.columns + 1 {
			x := int64(column) * f.wide
			p.AislePoints = append(p.AislePoints, point(crossPoint(row, column), x, y, plant.Crossing))
			if column < f.columns {
				p.AislePoints = append(p.AislePoints, point(stopPoint(row, column), x+f.wide/2, y, plant.StopAt))
				p.Aisles = append(p.Aisles, along(row, column)...)
			}
			if row < f.rows {
				p.Aisles = append(p.Aisles, across(row, column))
			}
		}
	}
	for n := range f.markets {
		f.market(p, n)
	}
}

func along(row, column int) []plant.Aisle {
	west, stop, east := crossPoint(row, column), stopPoint(row, column), crossPoint(row, column+1)
	switch {
	case row%6 == 1:
		return []plant.Aisle{{From: west, To: stop, OneWay: true}, {From: stop, To: east, OneWay: true}}
	case row%6 == 4:
		return []plant.Aisle{{From: east, To: stop, OneWay: true}, {From: stop, To: west, OneWay: true}}
	default:
		return []plant.Aisle{{From: west, To: stop}, {From: stop, To: east}}
	}
}

func across(row, column int) plant.Aisle {
	a := plant.Aisle{From: crossPoint(row, column), To: crossPoint(row+1, column)}
	if column%4 == 2 {
		a.SpeedLimit = units.MetrePerSecond * 12 / 10
	}
	return a
}

// market stands at the edge: the first in the west, the second in the east,
// further ones in between.
func (f *floor) market(p *plant.Plant, n int) {
	column, x := 0, int64(-6000)
	if n%2 == 1 {
		column, x = f.columns, int64(f.columns)*f.wide+6000
	}
	row := f.rows * (n/2 + 1) / (f.markets/2 + 2)
	code := plant.PointCode(fmt.Sprintf("M%d", n+1))
	p.AislePoints = append(p.AislePoints, point(code, x, int64(row)*f.deep, plant.Market))
	p.Aisles = append(p.Aisles, plant.Aisle{From: code, To: crossPoint(row, column)})
}

func point(code plant.PointCode, x, y int64, kind plant.PointKind) plant.AislePoint {
	return plant.AislePoint{Point: code, Place: *spot(x, y), Kind: kind}
}

func spot(x, y int64) *plant.Place { return &plant.Place{X: whole(x), Y: whole(y)} }
