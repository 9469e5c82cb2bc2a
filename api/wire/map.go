package wire

import (
	"math"

	"lanewright/planner"
	"lanewright/planner/plant"
)

// Map is a plan laid over the plant's floor. Coordinates are metres.
type Map struct {
	Points   []MapPoint   `json:"points"`
	Aisles   []MapAisle   `json:"aisles"`
	Cells    []MapCell    `json:"cells"`
	Stations []MapStation `json:"stations" doc:"those with coordinates"`
	Racks    []MapRack    `json:"racks" doc:"proposed ones included"`
	Routes   []MapRoute   `json:"routes"`
}

// MapPoint is an aisle point.
type MapPoint struct {
	Point string  `json:"point"`
	Kind  string  `json:"kind" enum:"market,stop,crossing,parking"`
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
}

// MapAisle joins two points.
type MapAisle struct {
	From       string `json:"from"`
	To         string `json:"to"`
	OneWay     bool   `json:"one_way" doc:"only from from to to"`
	SingleFile bool   `json:"single_file" doc:"two vehicles can neither pass nor meet"`
	Closed     bool   `json:"closed" doc:"by a rule of the plant"`
	Traffic    string `json:"traffic" enum:"all,vehicles,people" doc:"who may use it"`
}

// MapCell is a cell and what it is short of.
type MapCell struct {
	Cell               string `json:"cell"`
	Name               string `json:"name"`
	Area               string `json:"area"`
	LanesShort         int    `json:"lanes_short"`
	ContainersUnplaced int    `json:"containers_unplaced"`
}

// MapStation is a place where a person builds.
type MapStation struct {
	Station string  `json:"station"`
	Cell    string  `json:"cell"`
	X       float64 `json:"x"`
	Y       float64 `json:"y"`
}

// MapRack is a rack and how much it is used.
type MapRack struct {
	Rack          string   `json:"rack"`
	Cell          string   `json:"cell"`
	Proposed      bool     `json:"proposed"`
	AislePoint    string   `json:"aisle_point"`
	X             *float64 `json:"x" doc:"null where no coordinates are known"`
	Y             *float64 `json:"y" doc:"null where no coordinates are known"`
	WidthMM       float64  `json:"width_mm"`
	DepthMM       float64  `json:"depth_mm"`
	LanesUsed     int      `json:"lanes_used"`
	LanesFree     int      `json:"lanes_free"`
	BroughtPerH   float64  `json:"brought_per_hour" doc:"containers brought per net hour, mean"`
	EffortPerH    float64  `json:"effort" doc:"kg per net hour"`
	LiftingIndex  *float64 `json:"lifting_index" doc:"the greatest of its lanes; null where nothing is judged, or no mass may be lifted"`
	NotToBeLifted bool     `json:"not_to_be_lifted" doc:"the equation recommends no lift at all at one of its lanes"`
}

// MapRoute is the way of one round.
type MapRoute struct {
	Route  string   `json:"route"`
	Points []string `json:"points" doc:"aisle points passed, from the market and back to it"`
	Racks  []string `json:"racks" doc:"its stops in order"`
}

// NewMap draws what is known of a plan on the floor of the plant it was made for;
// cells are NewCells of the same plan.
func NewMap(facts *plant.Plant, p *planner.Plan, cells []Cell) *Map {
	use := planner.MapOf(facts, p)
	closed := facts.Closed()
	m := &Map{
		Points: convert(facts.AislePoints, newMapPoint),
		Aisles: convert(facts.Aisles, func(a plant.Aisle) MapAisle {
			return MapAisle{string(a.From), string(a.To), a.OneWay, a.SingleFile, closed(a.From, a.To), traffic(a.Traffic)}
		}),
		Cells: convert(cells, func(c Cell) MapCell {
			return MapCell{c.Cell, c.Name, c.Area, c.LanesShort, c.ContainersUnplaced}
		}),
		Stations: []MapStation{},
		Racks:    make([]MapRack, len(p.Racks)),
		Routes:   make([]MapRoute, len(p.Routes)),
	}
	for _, s := range facts.Stations {
		if s.Place != nil {
			m.Stations = append(m.Stations, MapStation{string(s.Station), string(s.Cell), s.Place.X.Metres(), s.Place.Y.Metres()})
		}
	}
	for i, r := range p.Racks {
		m.Racks[i] = newMapRack(newRack(r), use.Racks[i])
	}
	for i, r := range p.Routes {
		m.Routes[i] = MapRoute{Route: r.Route, Points: texts(use.Ways[i].Points), Racks: []string{}}
		for _, s := range r.Stops {
			m.Routes[i].Racks = append(m.Routes[i].Racks, string(s.Rack))
		}
	}
	return m
}

func newMapPoint(a plant.AislePoint) MapPoint {
	return MapPoint{string(a.Point), string(a.Kind), a.Place.X.Metres(), a.Place.Y.Metres()}
}

func newMapRack(r Rack, u planner.RackUse) MapRack {
	w := MapRack{
		Rack: r.Rack, Cell: r.Cell, Proposed: r.Proposed, AislePoint: r.AislePoint, X: r.X, Y: r.Y, WidthMM: r.WidthMM, DepthMM: r.DepthMM,
		LanesUsed: u.Used, LanesFree: u.Free, BroughtPerH: u.PerHour, EffortPerH: u.Effort,
	}
	switch {
	case math.IsInf(u.Lift, 1):
		w.NotToBeLifted = true
	case u.Lift > 0:
		w.LiftingIndex = &u.Lift
	}
	return w
}

func traffic(t plant.Traffic) string {
	if t == plant.AllTraffic {
		return "all"
	}
	return string(t)
}
