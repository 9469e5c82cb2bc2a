package placement

import (
	"fmt"
	"math"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Codes of findings about empties (planning rules, section 4).
const (
	CodeReturnShort = "empties.return-lanes-short"
	CodeNoReturn    = "empties.no-return-level"
)

// Empties compares the return lanes of every rack with the empties that wait
// on them before a visit (planning rules, section 4). Visits are the intervals
// at which racks are really served; a rack that is not in it is taken to be
// served at the shortest interval of its loops.
//
// The need is the pooled quantile, at the plant's service level, of the length
// that the empties of all loops of the rack take. A lane can take the longest
// row of those containers that fits it, whichever really come: where lengths
// differ, what is lost at the end of a lane for the order in which they come is
// not counted, as the rule measures length of lane.
func Empties(in Input, l Layout, visits map[plant.RackCode]time.Duration) finding.List {
	loops, placed := byKey(in.Loops), map[demand.Key]int{}
	for _, lane := range l.Lanes {
		placed[lane.Loop] += lane.Containers
	}
	var list finding.List
	at := 0
	for i := range l.Racks {
		r := &l.Racks[i]
		from := at
		for at < len(l.Lanes) && l.Lanes[at].Rack == r.Rack {
			at++
		}
		c := collector{rack: r, loops: loops, placed: placed, index: in.Index, level: min(1, in.Plant.ServiceLevel.Float64()), every: visits[r.Rack]}
		c.gather(l.Lanes[from:at])
		list = append(list, c.check()...)
	}
	return list
}

// collector gathers what comes back on one rack.
type collector struct {
	rack  *structure.Rack
	loops map[demand.Key]*sizing.Loop
	// placed are the containers of each loop that have a lane, on any rack.
	placed map[demand.Key]int
	index  *plant.Index
	level  float64
	// every is the interval at which the rack is served; where nobody says, the
	// shortest interval of its loops.
	every time.Duration
	kinds []kind
	// back counts the loops in kinds.
	back int
	// lanes are the return lanes. They can take have nanometres of
	// empties, the best one best; where there is none, best is of the largest supply lane.
	lanes      int
	have, best float64
}

func (c *collector) check() finding.List {
	if c.back == 0 || c.lanes > 0 && c.fits(c.every.Minutes()) {
		return nil
	}
	need := needed(c.kinds, c.every.Minutes(), c.level)
	f := finding.Finding{
		Severity: finding.Warning, Code: CodeNoReturn,
		Subject: finding.Subject{Rack: string(c.rack.Rack), RackType: string(c.rack.Type.RackType), Cell: string(c.rack.Cell)},
		Measure: &finding.Measure{Value: mmOf(need), Limit: c.have / float64(units.Millimetre), Unit: "mm"},
		Source:  "planning rules, section 4",
	}
	if r := c.index.Racks[c.rack.Rack]; r != nil {
		f.Origin = r.Origin
	}
	if c.lanes == 0 {
		f.Summary = fmt.Sprintf("Rack %s has no return level for the empties of %s", c.rack.Rack, count(c.back, "loop"))
		f.Detail = fmt.Sprintf("Returnable containers lie on it; %.0f mm of return lane would hold those that wait before a visit every %s min.", mmOf(need), units.Minutes(c.every))
		f.Remedy = "Give the rack a return level" + c.more(need, " of %s") + ", or say where else its empties go."
		return finding.List{f}
	}
	f.Code = CodeReturnShort
	f.Summary = fmt.Sprintf("Rack %s needs %.0f mm of return lane, it has %.0f mm", c.rack.Rack, mmOf(need), f.Measure.Limit)
	f.Detail = fmt.Sprintf("With a visit every %s min, the empties of %s that wait before it are at the service level no more than %.0f mm long in all; its return lanes, %d of them, can take %.0f mm of them.", units.Minutes(c.every), count(c.back, "loop"), mmOf(need), c.lanes, f.Measure.Limit)
	f.Remedy = "Add return lanes" + c.more(need, ": %s would do") + "."
	if m := c.fitting(); m > 0 {
		f.Remedy = fmt.Sprintf("Visit it every %d min, or add return lanes%s.", m, c.more(need, ": %s would do"))
	}
	return finding.List{f}
}

// mmOf is a length of nanometres in millimetres, rounded up.
func mmOf(nm float64) float64 { return math.Ceil(nm / float64(units.Millimetre)) }

// more says how many return lanes would do, those that are there included, and
// nothing where none is long enough for a container.
func (c *collector) more(need float64, format string) string {
	if c.best <= 0 {
		return ""
	}
	lacking := min(math.Ceil((need-c.have)/c.best), 1e9)
	return fmt.Sprintf(format, count(int64(c.lanes)+int64(lacking), "lane"))
}

// gather reads the lanes of the rack.
func (c *collector) gather(lanes []Lane) {
	on, first := map[demand.Key]int{}, map[demand.Key]plant.FlowSide{}
	var order []demand.Key
	shortest := time.Duration(math.MaxInt64)
	for _, l := range lanes {
		if l.Empty() {
			continue
		}
		if on[l.Loop] == 0 {
			order, first[l.Loop] = append(order, l.Loop), l.Side
		}
		on[l.Loop] += l.Containers
		shortest = min(shortest, c.loops[l.Loop].Interval)
	}
	if c.every <= 0 {
		c.every = shortest
	}
	slices.SortFunc(order, demand.Key.Compare)
	for _, k := range order {
		c.take(c.loops[k], first[k], float64(on[k])/float64(max(1, c.placed[k])))
	}
	c.measure(lanes)
}

// take adds a loop to the kind of its container.
func (c *collector) take(l *sizing.Loop, side plant.FlowSide, share float64) {
	box := c.index.Containers[l.Container]
	if !box.Returnable {
		return
	}
	c.back++
	r := newReturner(l, share)
	for i := range c.kinds {
		if c.kinds[i].box == box && c.kinds[i].side == side {
			c.kinds[i].loops = append(c.kinds[i].loops, r)
			return
		}
	}
	along, _ := box.Along(side)
	c.kinds = append(c.kinds, kind{box: box, side: side, along: along, stack: stackOf(box, c.clear()), loops: []returner{r}})
}

// clear is the least clear height of the rack's return levels.
func (c *collector) clear() units.Length {
	least := units.Length(math.MaxInt64)
	for _, l := range c.rack.Levels {
		if l.Kind == plant.Return {
			least = min(least, l.ClearHeight)
		}
	}
	return least
}

// measure adds up what the return lanes can take.
func (c *collector) measure(lanes []Lane) {
	if c.back == 0 {
		return
	}
	level := map[int]float64{}
	supply := 0.0
	for _, l := range c.rack.Levels {
		if level[l.Level.Level] = holds(l.LaneLength, c.kinds); l.Kind == plant.Supply {
			supply = max(supply, level[l.Level.Level])
		}
	}
	for _, l := range lanes {
		if l.Kind == plant.Return {
			c.lanes++
			c.have += level[l.Level]
			c.best = max(c.best, level[l.Level])
		}
	}
	if c.lanes == 0 {
		c.best = supply
	}
}

func (c *collector) fits(minutes float64) bool { return fits(c.kinds, minutes, c.level, c.have) }

// fitting is the largest interval in whole minutes, shorter than now, at which
// the return lanes suffice; 0 where none does. A longer interval never needs
// less, so it is found by halving.
func (c *collector) fitting() int {
	fits, short := 0, int(math.Ceil(c.every.Minutes()))
	for short-fits > 1 {
		if m := (fits + short) / 2; c.fits(float64(m)) {
			fits = m
		} else {
			short = m
		}
	}
	return fits
}
