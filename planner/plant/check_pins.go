package plant

import (
	"fmt"
	"slices"

	"lanewright/planner/finding"
)

// Codes of findings about pins.
const (
	CodePinNoLoop      = "pins.no-loop"
	CodePinNotServed   = "pins.not-served"
	CodePinLevel       = "pins.unknown-level"
	CodePinLane        = "pins.beyond-lanes"
	CodePinContradicts = "pins.contradict"
)

// loopKey names a loop: one part at one station.
type loopKey struct {
	part    PartCode
	cell    CellCode
	station StationCode
}

// lanePlace is a lane of a rack.
type lanePlace struct {
	rack        RackCode
	level, lane int
}

// pins checks each pin alone and then all that speak of one loop or one lane.
func (c *checker) pins() {
	stations := c.stationsOfParts()
	byLoop, byLane := map[loopKey]Pin{}, map[lanePlace]loopKey{}
	first := map[lanePlace]Pin{}
	for _, pin := range c.p.Pins {
		r := c.x.Racks[pin.Rack]
		if r == nil || !c.pinPlace(pin, *r) {
			continue
		}
		for _, station := range c.pinLoops(pin, *r, stations) {
			k := loopKey{pin.Part, r.Cell, station}
			if other, ok := byLoop[k]; ok && !agree(other, pin) {
				c.contradict(pin, other, fmt.Sprintf("%s at station %s is pinned to rack %s%s and to rack %s%s", pin.Part, station, other.Rack, levelText(other), pin.Rack, levelText(pin)))
				continue
			}
			if other := byLoop[k]; other.Level == 0 {
				byLoop[k] = pin
			}
			place := lanePlace{pin.Rack, pin.Level, pin.Lane}
			if pin.Level == 0 || pin.Lane == 0 {
				continue
			}
			if other, ok := byLane[place]; ok && other != k {
				c.contradict(pin, first[place], fmt.Sprintf("Lane %d on level %d of rack %s is pinned for %s at %s and for %s at %s", pin.Lane, pin.Level, pin.Rack, other.part, other.station, k.part, k.station))
				continue
			}
			byLane[place], first[place] = k, pin
		}
	}
}

// agree reports whether two pins of one loop can both be kept: all its lanes
// stay on one rack and, where given, one level.
func agree(a, b Pin) bool {
	return a.Rack == b.Rack && (a.Level == 0 || b.Level == 0 || a.Level == b.Level)
}

func levelText(p Pin) string {
	if p.Level == 0 {
		return ""
	}
	return fmt.Sprintf(", level %d", p.Level)
}

func (c *checker) contradict(pin, other Pin, what string) {
	c.add("Rack", finding.Finding{
		Severity: finding.Error, Code: CodePinContradicts, Origin: pin.Origin, Related: origins(other.Origin), Subject: pinSubject(pin),
		Summary: what,
		Detail:  "A lane holds one part of one station, and all lanes of a pinned part stay on one rack and one level, so both pins can not be kept.",
		Remedy:  "Take one of the pins out.",
	})
}

// stationsOfParts lists, in order, the stations at which each part is used.
func (c *checker) stationsOfParts() map[PartCode][]StationKey {
	stations := map[PartCode][]StationKey{}
	seen := map[loopKey]bool{}
	for _, u := range c.p.Usage {
		if k := (loopKey{u.Part, u.Cell, u.Station}); !seen[k] {
			seen[k] = true
			stations[u.Part] = append(stations[u.Part], StationKey{u.Cell, u.Station})
		}
	}
	return stations
}

// pinLoops returns the stations of the loops that pin means, after saying so
// when there are none or when the rack does not serve one.
func (c *checker) pinLoops(pin Pin, r Rack, stations map[PartCode][]StationKey) []StationCode {
	var loops []StationCode
	for _, k := range stations[pin.Part] {
		if k.Cell == r.Cell && (pin.Station == "" || pin.Station == k.Station) {
			loops = append(loops, k.Station)
		}
	}
	slices.Sort(loops)
	if len(loops) == 0 {
		where := "in cell " + string(r.Cell)
		if pin.Station != "" {
			where = fmt.Sprintf("at station %s of cell %s", pin.Station, r.Cell)
		}
		c.pin("Part", CodePinNoLoop, pin, nil, fmt.Sprintf("Part %s is pinned to rack %s but not used %s", pin.Part, pin.Rack, where),
			"There is nothing to keep in place.", "Add the use, correct the pin, or take it out.")
		return nil
	}
	for _, s := range loops {
		if len(r.Stations) > 0 && !slices.Contains(r.Stations, s) {
			c.pin("Rack", CodePinNotServed, pin, origins(r.Origin), fmt.Sprintf("Part %s at station %s is pinned to rack %s, which does not serve that station", pin.Part, s, pin.Rack),
				"A part may only lie on a rack that serves its station.", "Add the station to the rack, or correct the pin.")
		}
	}
	return loops
}

// pinPlace reports whether the level and lane of pin exist on its rack.
func (c *checker) pinPlace(pin Pin, r Rack) bool {
	t := c.x.RackTypes[r.RackType]
	if t == nil || pin.Level == 0 {
		return true
	}
	l := t.level(pin.Level)
	if l == nil || l.Kind != Supply {
		what := "does not have"
		if l != nil {
			what = "has for returns only"
		}
		c.pin("Level", CodePinLevel, pin, origins(t.Origin), fmt.Sprintf("Part %s is pinned to level %d of rack %s, which rack type %s %s", pin.Part, pin.Level, pin.Rack, t.RackType, what),
			"A part lies on a supply level.", "Correct the level of the pin.")
		return false
	}
	for _, f := range r.FixedLanes {
		if f.Level == pin.Level && pin.Lane > len(f.Widths) {
			c.pin("Lane", CodePinLane, pin, origins(c.p.At(r.Origin, "Fixed lanes")), fmt.Sprintf("Part %s is pinned to lane %d on level %d of rack %s, which has %d fixed lanes", pin.Part, pin.Lane, pin.Level, pin.Rack, len(f.Widths)),
				"The guides of that level can not be moved, so there is no such lane.", "Correct the lane of the pin or the fixed lanes of the rack.")
			return false
		}
	}
	return true
}

func (c *checker) pin(field, code string, pin Pin, related []finding.Origin, summary, detail, remedy string) {
	c.add(field, finding.Finding{
		Severity: finding.Error, Code: code, Origin: pin.Origin, Related: related, Subject: pinSubject(pin),
		Summary: summary, Detail: detail, Remedy: remedy,
	})
}

func pinSubject(p Pin) finding.Subject {
	return finding.Subject{Part: string(p.Part), Station: string(p.Station), Rack: string(p.Rack), Level: p.Level}
}
