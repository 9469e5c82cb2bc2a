package routing

import (
	"math"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/tours"
	"lanewright/planner/units"
)

// wishes are what routes shall keep to beside their limits.
type wishes struct {
	rules Rules
	// today names the routes that serve each rack today; names lists those and the
	// ones that rules pin racks to.
	today map[plant.RackCode][]plant.TourCode
	names []plant.TourCode
	// current are the rows of today's routes, route by route.
	current [][]plant.CurrentStop
	// move is what a stop costs that leaves its route of today. Where it is limited,
	// at most so many may.
	move    units.Length
	limited bool
	most    int
	// raised is a price in place of move that the search uses to keep the limit.
	raised units.Length
}

// forbidding is a raised price that lets no stop move.
const forbidding = units.Length(math.MaxInt64)

// newWishes reads the rules and today's routes of p.
func newWishes(p *plant.Plant, s Settings) wishes {
	w := wishes{
		move: units.Length(s.MovePrice * float64(units.Metre)), limited: s.Limited && len(p.CurrentRoutes) > 0, most: s.MoveLimit,
		rules: NewRules(p), today: map[plant.RackCode][]plant.TourCode{}, current: currentRoutes(p),
	}
	for _, s := range p.CurrentRoutes {
		if !slices.Contains(w.today[s.Rack], s.Route) {
			w.today[s.Rack] = append(w.today[s.Rack], s.Route)
		}
		w.names = append(w.names, s.Route)
	}
	for _, name := range w.rules.Pins {
		w.names = append(w.names, name)
	}
	w.names = distinct(w.names)
	return w
}

// side writes the wishes for the engine: pins and today's routes as labels.
func (p *problem) side(a aim) tours.Side {
	numbers := map[plant.RackCode][]int32{}
	for i, s := range p.stops {
		numbers[s.rack] = append(numbers[s.rack], int32(i+1))
	}
	side := tours.Side{Apart: pairs(p.rules.Apart, numbers), Before: pairs(p.rules.Before, numbers)}
	labels := p.labels()
	if len(labels) == 0 {
		return side
	}
	side.Labels = len(labels)
	side.Prices = make([]int64, len(p.place)*(len(labels)+1))
	for i, s := range p.stops {
		row := side.Prices[(i+1)*(len(labels)+1):][:len(labels)+1]
		p.priceRow(row, s, labels, a)
	}
	return side
}

// priceRow fills in what stop s costs on a route without and with each label.
func (p *problem) priceRow(row []int64, s stop, labels []plant.TourCode, a aim) {
	allowed, price := p.today[s.rack], p.price(a)
	if pin := p.rules.Pins[s.rack]; pin != "" {
		allowed, price = []plant.TourCode{pin}, tours.Never
	}
	if s.part > 0 || len(allowed) == 0 {
		return
	}
	row[0] = price
	for l, name := range labels {
		if !slices.Contains(allowed, name) {
			row[l+1] = price
		}
	}
}

// price is what a moved stop costs in the units of an aim.
func (p *problem) price(a aim) int64 {
	move := max(p.move, p.raised)
	switch {
	case move == forbidding:
		return tours.Never
	case a == byWay:
		return int64(move / units.Millimetre)
	default:
		return int64(move.Metres() / p.vehicle.Speed.MPS() * 1e9 / float64(p.tick()))
	}
}

// labels are the names that matter for p: all that its racks are pinned to, and
// today's where moves have a price or a limit.
func (p *problem) labels() []plant.TourCode {
	var list []plant.TourCode
	for _, s := range p.stops {
		if pin := p.rules.Pins[s.rack]; pin != "" {
			list = append(list, pin)
		}
		if p.move > 0 || p.limited {
			list = append(list, p.today[s.rack]...)
		}
	}
	return distinct(list)
}

// pairs lists the stops of the racks of rules.
func pairs(rules []RackPair, numbers map[plant.RackCode][]int32) [][2]int32 {
	var list [][2]int32
	for _, r := range rules {
		for _, a := range numbers[r.First] {
			for _, b := range numbers[r.Second] {
				if a != b {
					list = append(list, [2]int32{a, b})
				}
			}
		}
	}
	return list
}

// moved counts the stops of t that are on another route than today.
func (w *wishes) moved(t tour) int {
	n := 0
	for _, s := range t.stops {
		if names := w.today[s.rack]; len(names) > 0 && s.part == 0 && !slices.Contains(names, t.code) {
			n++
		}
	}
	return n
}
