package placement

import (
	"fmt"
	"math/rand/v2"
	"time"

	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

const mm, kg = units.Millimetre, units.Kilogram

// dice throws a number from 0 to n-1.
type dice func(n int) int

func seeded(seed uint64) dice { return rand.New(rand.NewPCG(seed, 7)).IntN }

// throws are drawn by rapid, which makes what fails smaller.
func throws(t *rapid.T) dice {
	return func(n int) int { return rapid.IntRange(0, n-1).Draw(t, "throw") }
}

func (d dice) from(low, high int) int { return low + d(high-low+1) }
func (d dice) yes(percent int) bool   { return d(100) < percent }

// recipe is what a made-up plant is made of.
type recipe struct {
	loops, racks, types, stations, levels int
	// width is of the racks in mm, frontage 0 is no limit.
	width, frontage int
	// percentages of loops, levels or racks that have it.
	fixed, pins, apart, masses, today, costs, fill int
	places                                         bool
	containers                                     int
}

// made returns the input of a made-up cell "C".
func made(d dice, r recipe) Input {
	p := &plant.Plant{Name: "Skerrow Lantern Works", Settings: plant.DefaultSettings()}
	cell := plant.Cell{Cell: "C", Frontage: units.Length(r.frontage) * mm}
	if r.places {
		cell.NewRack = &plant.Place{X: 2000 * mm, Y: 2000 * mm}
	}
	p.Cells = []plant.Cell{cell}
	if d.yes(r.fill) {
		p.Settings.FillLimit = units.R(80, 100)
	}
	for i := range r.stations {
		s := plant.Station{Station: plant.StationCode(fmt.Sprintf("S%02d", i)), Cell: "C", WalkLimit: 6 * units.Metre}
		if r.places {
			s.Place = &plant.Place{X: units.Length(d(4000)) * mm, Y: units.Length(d(3000)) * mm}
		}
		p.Stations = append(p.Stations, s)
	}
	boxes := [][3]int{{300, 200, 150}, {400, 300, 150}, {400, 300, 280}, {600, 400, 150}, {600, 400, 280}, {385, 285, 120}}
	for i, b := range boxes {
		p.Containers = append(p.Containers, plant.Container{
			Container: plant.ContainerCode(fmt.Sprintf("B%d", i)), Length: units.Length(b[0]) * mm, Width: units.Length(b[1]) * mm, Height: units.Length(b[2]) * mm,
			EmptyMass: kg, Returnable: i%2 == 0, FlowSide: []plant.FlowSide{plant.EitherAlong, plant.LengthAlong, plant.WidthAlong}[d(3)], Nests: units.R(int64(1+i%4), 4),
		})
	}
	for i := range r.types {
		p.RackTypes = append(p.RackTypes, madeType(d, r, i))
	}
	for i := range r.racks {
		p.Racks = append(p.Racks, madeRack(d, r, p, i))
	}
	var loops []sizing.Loop
	for i := range r.loops {
		part := plant.Part{Part: plant.PartCode(fmt.Sprintf("P%03d", i)), PieceMass: units.Mass(50+d(950)) * units.Gram, Container: p.Containers[d(len(boxes))].Container, Pack: int64(d.from(4, 20))}
		if d.yes(r.apart) {
			if d.yes(50) {
				part.KeepApart = fmt.Sprintf("G%d", d(2))
			} else if i > 0 {
				part.LookAlike = p.Parts[d(i)].Part
			}
		}
		p.Parts = append(p.Parts, part)
		loops = append(loops, madeLoop(d, r, p, part))
		p.Usage = append(p.Usage, plant.Usage{Part: part.Part, Cell: "C", Station: loops[i].Station, PerHour: units.Int(1)})
	}
	madeToday(d, r, p, loops)
	x := plant.NewIndex(p)
	return Input{Index: x, Loops: loops, Racks: structure.Racks(x), Plant: p.Settings}
}

func madeLoop(d dice, r recipe, p *plant.Plant, part plant.Part) sizing.Loop {
	var l sizing.Loop
	l.Key = demand.Key{Part: part.Part, Cell: "C", Station: p.Stations[d(len(p.Stations))].Station}
	l.Container, l.Pack = part.Container, part.Pack
	l.Rate = units.R(int64(d.from(1, 400)), 100)
	l.Interval, l.Response = time.Duration(d.from(2, 6))*10*time.Minute, 30*time.Minute
	l.ServiceLevel, l.Model = p.Settings.ServiceLevel, plant.SteadyModel
	l.Containers = d.from(2, max(2, r.containers))
	for _, b := range p.Containers {
		if b.Container == part.Container {
			l.Gross = b.Gross(part)
		}
	}
	return l
}

func madeType(d dice, r recipe, i int) plant.RackType {
	t := plant.RackType{
		RackType: plant.RackTypeCode(fmt.Sprintf("T%d", i)), Width: units.Length(r.width+i*300) * mm,
		Depth: 1500 * mm, Height: 2000 * mm, OwnMass: 60 * kg,
	}
	if d.yes(r.costs) {
		t.Cost = units.Money(d.from(5, 15)) * 100 * units.Unit
	}
	if d.yes(r.masses) {
		t.MassLimit = units.Mass(d.from(100, 400)) * kg
	}
	length := units.Length(d.from(8, 18)*100) * mm
	for n := range r.levels {
		l := plant.Level{
			Level: n + 1, Kind: plant.Supply, PickHeight: units.Length(400+350*n) * mm, Drop: 50 * mm,
			LaneLength: length, UsableWidth: t.Width - 80*mm, ClearHeight: []units.Length{220, 350, 350}[d(3)] * mm,
		}
		if d.yes(r.masses) {
			l.MassLimit = units.Mass(d.from(20, 120)) * kg
		}
		t.Levels = append(t.Levels, l)
	}
	t.Levels = append(t.Levels, plant.Level{Level: r.levels + 1, Kind: plant.Return, PickHeight: 1700 * mm, Drop: -50 * mm, LaneLength: length, UsableWidth: t.Width - 80*mm, ClearHeight: 350 * mm})
	return t
}

func madeRack(d dice, r recipe, p *plant.Plant, i int) plant.Rack {
	t := p.RackTypes[d(len(p.RackTypes))]
	rack := plant.Rack{Rack: plant.RackCode(fmt.Sprintf("R%02d", i)), RackType: t.RackType, Cell: "C"}
	if r.places {
		rack.Place = &plant.Place{X: units.Length(d(5000)) * mm, Y: units.Length(d(4000)) * mm}
	}
	if len(p.Stations) > 1 && d.yes(30) {
		for _, s := range p.Stations {
			if d.yes(60) {
				rack.Stations = append(rack.Stations, s.Station)
			}
		}
	}
	for n, l := range t.Levels {
		if !d.yes(r.fixed) {
			continue
		}
		f := plant.FixedLanes{Level: n + 1}
		left := l.UsableWidth
		for left > 250*mm && len(f.Widths) < 9 {
			w := []units.Length{220, 320, 416, 440, 620}[d(5)] * mm
			if w > left {
				break
			}
			f.Widths = append(f.Widths, w)
			left -= w + p.Settings.GuideWidth
		}
		if len(f.Widths) > 0 {
			rack.FixedLanes = append(rack.FixedLanes, f)
		}
	}
	return rack
}

// madeToday puts some loops somewhere today, and pins some.
func madeToday(d dice, r recipe, p *plant.Plant, loops []sizing.Loop) {
	if len(p.Racks) == 0 {
		return
	}
	for i := range loops {
		rack := p.Racks[d(len(p.Racks))]
		level := d.from(1, r.levels)
		if d.yes(r.today) {
			c := plant.CurrentLane{Rack: rack.Rack, Level: level, Lane: d.from(1, 6), Part: loops[i].Part, Station: loops[i].Station, Containers: d(4)}
			if d.yes(30) {
				c.Station = ""
			}
			p.Current = append(p.Current, c)
		}
		if d.yes(r.pins) {
			pin := plant.Pin{Part: loops[i].Part, Rack: rack.Rack, Origin: finding.Origin{Sheet: "Pins", Row: len(p.Pins) + 2}}
			if d.yes(60) {
				pin.Level = level + d(8)/7
			}
			if d.yes(30) {
				pin.Lane = d.from(1, 4)
			}
			p.Pins = append(p.Pins, pin)
		}
	}
}
