package recompute

import (
	"math"
	"sort"
	"strconv"
	"strings"
)

const tolerance = 1e-6 // mm, kg, m

type spot struct {
	rack  string
	level int
}

// levelOf returns the Levels row of a rack's level.
func (j *judge) levelOf(s spot) row {
	r := j.rackOf[s.rack]
	if r == nil {
		return nil
	}
	return j.facts.levels[r.RackType][s.level]
}

func (j *judge) byLevel() map[spot][]planLane {
	levels := map[spot][]planLane{}
	for _, l := range j.plan.Lanes {
		levels[spot{l.Rack, l.Level}] = append(levels[spot{l.Rack, l.Level}], l)
	}
	for _, list := range levels {
		sort.Slice(list, func(a, b int) bool { return list[a].Lane < list[b].Lane })
	}
	return levels
}

// fixed returns the fixed lane widths of a standing rack's level.
func (j *judge) fixed(s spot) []float64 {
	text := j.facts.by["Racks"][s.rack]["Fixed lanes"]
	for _, part := range strings.Split(text, ";") {
		level, widths, ok := strings.Cut(part, ":")
		if n, err := strconv.Atoi(strings.TrimSpace(level)); !ok || err != nil || n != s.level {
			continue
		}
		var out []float64
		for _, w := range strings.Split(widths, ",") {
			v, _ := strconv.ParseFloat(strings.TrimSpace(w), 64)
			out = append(out, v)
		}
		return out
	}
	return nil
}

// lanes checks the geometry of every level and that each loop has its
// containers in lanes or a reason.
func (j *judge) lanes() {
	for s, list := range j.byLevel() {
		j.level(s, list)
	}
	held := map[key]int{}
	count := map[key]int{}
	first := map[key]planLane{}
	spots := map[key]map[spot][]int{}
	for _, l := range j.plan.Lanes {
		if l.Part == "" {
			continue
		}
		k := l.key()
		if count[k] == 0 {
			first[k], spots[k] = l, map[spot][]int{}
		}
		held[k] += l.Containers
		count[k]++
		at := spot{l.Rack, l.Level}
		spots[k][at] = append(spots[k][at], l.Lane)
	}
	without := map[key]int{}
	for _, u := range j.plan.Unplaced {
		k := key{u.Part, u.Cell, u.Station}
		without[k] += u.Containers
		if !j.reasons[u.Reason] {
			j.say("unplaced %v: reason %q stands in no finding", k, u.Reason)
		}
	}
	for k, l := range j.loopOf {
		if held[k]+without[k] != l.Containers {
			j.say("loop %v: %d containers, %d in lanes and %d unplaced", k, l.Containers, held[k], without[k])
		}
		if count[k] != l.Lanes {
			j.say("loop %v: says %d lanes, has %d", k, l.Lanes, count[k])
		}
		if count[k] > 0 && (first[k].Capacity != l.LaneCapacity || first[k].FlowSide != l.FlowSide) {
			j.say("loop %v: capacity or flow side is not its first lane's", k)
		}
		if len(spots[k]) == 1 && without[k] == 0 {
			c := first[k].Capacity
			if want := (l.Containers + c - 1) / c; want != l.Lanes {
				j.say("loop %v: %d lanes on one level, ⌈%d/%d⌉ = %d", k, l.Lanes, l.Containers, c, want)
			}
		}
		for at, lanes := range spots[k] {
			sort.Ints(lanes)
			if lanes[len(lanes)-1]-lanes[0] != len(lanes)-1 {
				j.say("loop %v: lanes %v of rack %s level %d are not side by side", k, lanes, at.rack, at.level)
			}
		}
	}
}

func (j *judge) level(s spot, list []planLane) {
	v := j.levelOf(s)
	if v == nil {
		j.say("rack %s has no level %d", s.rack, s.level)
		return
	}
	guide := j.facts.mm("Guide width", "10")
	usable := v.num("Usable width", 0)
	fixed := j.fixed(s)
	end := -guide
	for i, l := range list {
		if l.Lane != i+1 {
			j.say("rack %s level %d: lane %d stands where %d is expected", s.rack, s.level, l.Lane, i+1)
		}
		if l.Kind != v["Kind"] {
			j.say("rack %s level %d: kind %s, the sheet says %s", s.rack, s.level, l.Kind, v["Kind"])
		}
		if l.OffsetMM < end+guide-tolerance {
			j.say("rack %s level %d lane %d: offset %v leaves no guide after %v", s.rack, s.level, l.Lane, l.OffsetMM, end)
		}
		end = l.OffsetMM + l.WidthMM
		if l.Part != "" {
			j.lane(s, v, l)
		}
	}
	limit := usable
	if j.rackOf[s.rack].Proposed {
		limit = usable * j.facts.share("Fill limit of levels", "100")
	}
	used := -guide
	for _, l := range list {
		if l.Part != "" {
			used += l.WidthMM + guide
		}
	}
	if end > usable+tolerance || v["Kind"] == "supply" && used > limit+tolerance {
		j.say("rack %s level %d: lanes end at %v, filled %v of %v", s.rack, s.level, end, used, limit)
	}
	if fixed == nil {
		return
	}
	if len(fixed) != len(list) {
		j.say("rack %s level %d: %d lanes, %d are fixed", s.rack, s.level, len(list), len(fixed))
		return
	}
	for i, l := range list {
		if math.Abs(l.WidthMM-fixed[i]) > tolerance {
			j.say("rack %s level %d lane %d: width %v, fixed at %v", s.rack, s.level, l.Lane, l.WidthMM, fixed[i])
		}
	}
}

// lane checks one used lane: container, heights, capacity, station, walk.
func (j *judge) lane(s spot, v row, l planLane) {
	f := j.facts
	part := f.by["Parts"][l.Part]
	c := f.by["Containers"][part["Container"]]
	along, across := c.num("Length", 0), c.num("Width", 0)
	if l.FlowSide == "width" {
		along, across = across, along
	}
	allowed := c["Flow side"]
	if allowed != "" && allowed != "either" && allowed != l.FlowSide && along != across {
		j.say("lane of %v: flow side %s, the container allows %s", l.key(), l.FlowSide, allowed)
	}
	if v["Kind"] != "supply" {
		j.say("lane of %v lies on a return level", l.key())
	}
	if need := across + 2*f.mm("Lane side clearance", "10"); l.WidthMM < need-tolerance {
		j.say("lane of %v: width %v, needs %v", l.key(), l.WidthMM, need)
	} else if j.fixed(s) == nil && l.WidthMM > need+tolerance {
		j.say("lane of %v: width %v on free guides, needs %v", l.key(), l.WidthMM, need)
	}
	if c.num("Height", 0)+f.mm("Hand clearance", "60") > v.num("Clear height", 0)+tolerance {
		j.say("lane of %v: too tall for rack %s level %d", l.key(), s.rack, s.level)
	}
	if want := int(math.Floor(v.num("Lane length", 0)/along + 1e-9)); want < 1 || l.Capacity != want {
		j.say("lane of %v: capacity %d, ⌊lane length/along⌋ = %d", l.key(), l.Capacity, want)
	}
	if l.Containers < 1 || l.Containers > l.Capacity {
		j.say("lane of %v: %d containers in a lane for %d", l.key(), l.Containers, l.Capacity)
	}
	r := j.rackOf[s.rack]
	if r.Cell != l.Cell || !j.serves(r, l.Station) {
		j.say("lane of %v: rack %s of cell %s does not serve the station", l.key(), r.Rack, r.Cell)
	}
	st := f.stations[[2]string{l.Cell, l.Station}]
	if d, ok := j.distance(r, st); ok && d > st.num("Walk limit", 5)+tolerance {
		j.say("lane of %v: rack %s is %v m away, the walk limit is %v", l.key(), s.rack, d, st.num("Walk limit", 5))
	}
}

func (j *judge) serves(r *planRack, station string) bool {
	list := j.facts.by["Racks"][r.Rack].list("Stations")
	if r.Proposed {
		list = r.Stations
	}
	for _, s := range list {
		if s == station {
			return true
		}
	}
	return len(list) == 0
}

// distance is the straight line from a station to a rack, false where one has
// no coordinates.
func (j *judge) distance(r *planRack, st row) (float64, bool) {
	if r.X == nil || r.Y == nil || st["X"] == "" || st["Y"] == "" {
		return 0, false
	}
	return math.Hypot(*r.X-st.num("X", 0), *r.Y-st.num("Y", 0)), true
}

// neighbours checks keep-apart groups and look-alikes.
func (j *judge) neighbours() {
	parts := j.facts.by["Parts"]
	for s, list := range j.byLevel() {
		for i := 1; i < len(list); i++ {
			a, b := list[i-1].Part, list[i].Part
			if a == "" || b == "" || a == b {
				continue
			}
			group := parts[a]["Keep apart"]
			if group != "" && group == parts[b]["Keep apart"] || parts[a]["Look-alike of"] == b || parts[b]["Look-alike of"] == a {
				j.say("rack %s level %d: %s and %s may not be neighbours", s.rack, s.level, a, b)
			}
		}
	}
}

func (j *judge) gross(part string) float64 {
	p := j.facts.by["Parts"][part]
	return j.facts.by["Containers"][p["Container"]].num("Empty mass", 0) + p.num("Standard pack", 0)*p.num("Piece mass", 0)
}

// loads checks mass limits of levels and racks.
func (j *judge) loads() {
	racks := map[string]float64{}
	for s, list := range j.byLevel() {
		load := 0.0
		for _, l := range list {
			if l.Part != "" {
				load += float64(min(l.Capacity, l.Containers)) * j.gross(l.Part)
			}
		}
		racks[s.rack] += load
		if limit := j.levelOf(s).num("Mass limit", math.Inf(1)); load > limit+tolerance {
			j.say("rack %s level %d: load %v, limit %v", s.rack, s.level, load, limit)
		}
	}
	for rack, load := range racks {
		t := j.facts.by["Rack types"][j.rackOf[rack].RackType]
		if limit := t.num("Mass limit", math.Inf(1)); load+t.num("Own mass", 0) > limit+tolerance {
			j.say("rack %s: load and own mass %v, limit %v", rack, load+t.num("Own mass", 0), limit)
		}
	}
}

// proposals checks added racks: types allowed and frontage.
func (j *judge) proposals() {
	width, added := map[string]float64{}, map[string]bool{}
	for _, r := range j.plan.Racks {
		width[r.Cell] += j.facts.by["Rack types"][r.RackType].num("Width", 0)
		standing := j.facts.by["Racks"][r.Rack] != nil
		if standing == r.Proposed {
			j.say("rack %s: proposed is %v, in the Racks sheet %v", r.Rack, r.Proposed, standing)
		}
		if !r.Proposed {
			continue
		}
		added[r.Cell] = true
		allowed := j.facts.by["Cells"][r.Cell].list("Rack types allowed")
		ok := len(allowed) == 0
		for _, a := range allowed {
			ok = ok || a == r.RackType
		}
		if !ok {
			j.say("rack %s: type %s is not allowed in cell %s", r.Rack, r.RackType, r.Cell)
		}
	}
	for cell := range added {
		if limit := j.facts.by["Cells"][cell].num("Frontage", math.Inf(1)); width[cell] > limit+tolerance {
			j.say("cell %s: racks are %v wide with those added, frontage %v", cell, width[cell], limit)
		}
	}
}

// pins checks what must stay where it is.
func (j *judge) pins() {
	for _, p := range j.facts.sheets["Pins"] {
		cell := j.facts.by["Racks"][p["Rack"]]["Cell"]
		hit := map[key]bool{}
		lane := map[key]bool{}
		for _, l := range j.plan.Lanes {
			if l.Part != p["Part"] || l.Cell != cell || p["Station"] != "" && l.Station != p["Station"] {
				continue
			}
			hit[l.key()] = true
			if l.Rack != p["Rack"] || p["Level"] != "" && l.Level != p.whole("Level", 0) {
				j.say("pin of %v: it lies on rack %s level %d", l.key(), l.Rack, l.Level)
			}
			lane[l.key()] = lane[l.key()] || l.Lane == p.whole("Lane", 0)
		}
		for k := range hit {
			if p["Lane"] != "" && !lane[k] {
				j.say("pin of %v: none of its lanes is %s", k, p["Lane"])
			}
		}
	}
}
