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

// returner is a loop whose empties a rack takes back.
type returner struct {
	// rate is empties per minute that come back on this rack; variance is of
	// the empties in one minute.
	rate, variance float64
	steady         bool
	// along is the length of return lane that one empty takes, in millimetres.
	along float64
}

// Empties compares the return lanes of every rack with the empties that wait
// on them before a visit (planning rules, section 4). Visits are the intervals
// at which racks are really served; a rack that is not in it is taken to be
// served at the shortest interval of its loops.
func Empties(in Input, l Layout, visits map[plant.RackCode]time.Duration) finding.List {
	loops := byKey(in.Loops)
	z := sizing.NormalQuantile(in.Plant.ServiceLevel.Float64())
	var list finding.List
	at := 0
	for i := range l.Racks {
		r := &l.Racks[i]
		from := at
		for at < len(l.Lanes) && l.Lanes[at].Rack == r.Rack {
			at++
		}
		c := collector{rack: r, loops: loops, index: in.Index, z: z, visits: visits[r.Rack]}
		list = append(list, c.check(l.Lanes[from:at])...)
	}
	return list
}

// collector gathers what comes back on one rack.
type collector struct {
	rack  *structure.Rack
	loops map[demand.Key]*sizing.Loop
	index *plant.Index
	z     float64
	// visits is the interval at which it is served, 0 where nobody says;
	// every is that or the shortest interval of the rack's loops.
	visits, every time.Duration
	list          []returner
	// lanes are the return lanes, have their length in millimetres.
	lanes int
	have  float64
}

func (c *collector) check(lanes []Lane) finding.List {
	c.gather(lanes)
	if len(c.list) == 0 {
		return nil
	}
	need := c.need(c.every.Minutes())
	f := finding.Finding{
		Severity: finding.Warning, Code: CodeNoReturn,
		Subject: finding.Subject{Rack: string(c.rack.Rack), RackType: string(c.rack.Type.RackType), Cell: string(c.rack.Cell)},
		Measure: &finding.Measure{Value: math.Ceil(need), Limit: c.have, Unit: "mm"},
	}
	if r := c.index.Racks[c.rack.Rack]; r != nil {
		f.Origin = r.Origin
	}
	if c.lanes == 0 {
		f.Summary = fmt.Sprintf("Rack %s has no return level for the empties of %s", c.rack.Rack, count(len(c.list), "loop"))
		f.Detail = fmt.Sprintf("Returnable containers lie on it; about %.0f mm of return lane would hold those that wait before a visit.", math.Ceil(need))
		f.Remedy = "Give the rack a return level, or say where else its empties go."
		return finding.List{f}
	}
	if need <= c.have*(1+1e-12) {
		return nil
	}
	f.Code = CodeReturnShort
	f.Summary = fmt.Sprintf("Rack %s needs %.0f mm of return lane, it has %.0f mm", c.rack.Rack, math.Ceil(need), c.have)
	f.Detail = fmt.Sprintf("With a visit every %s min, the empties of %s that wait before it are at the service level no more than %.0f mm long in all; its return lanes, %d of them, hold %.0f mm.", units.Minutes(c.every), count(len(c.list), "loop"), math.Ceil(need), c.lanes, c.have)
	f.Remedy = "Add a return lane or level."
	if m := c.fitting(); m > 0 {
		f.Remedy = fmt.Sprintf("Visit it every %d min, or add a return lane or level.", m)
	}
	return finding.List{f}
}

// gather reads the lanes of the rack.
func (c *collector) gather(lanes []Lane) {
	height := units.Length(math.MaxInt64)
	lengths := map[int]units.Length{}
	for _, l := range c.rack.Levels {
		if l.Kind == plant.Return {
			lengths[l.Level.Level] = l.LaneLength
			height = min(height, l.ClearHeight)
		}
	}
	on := map[demand.Key]int{}
	first := map[demand.Key]plant.FlowSide{}
	var order []demand.Key
	c.every = time.Duration(math.MaxInt64)
	for _, l := range lanes {
		switch {
		case l.Kind == plant.Return:
			c.lanes++
			c.have += lengths[l.Level].MM()
		case !l.Empty():
			if on[l.Loop] == 0 {
				order, first[l.Loop] = append(order, l.Loop), l.Side
			}
			on[l.Loop] += l.Containers
			c.every = min(c.every, c.loops[l.Loop].Interval)
		}
	}
	if c.visits > 0 {
		c.every = c.visits
	}
	slices.SortFunc(order, demand.Key.Compare)
	for _, k := range order {
		l := c.loops[k]
		if box := c.index.Containers[l.Container]; box.Returnable {
			c.list = append(c.list, newReturner(l, float64(on[k])/float64(l.Containers), emptyLength(box, first[k], height)))
		}
	}
}

func newReturner(l *sizing.Loop, share, along float64) returner {
	pack := float64(l.Pack)
	return returner{
		rate:     l.Rate.Float64() / pack * share,
		variance: l.Variance.Float64() / pack / pack * share * share,
		steady:   l.Model == plant.SteadyModel,
		along:    along,
	}
}

// emptyLength is the length of lane that one empty takes: its side along the
// lane, shared by as many as nest in a stack below the clear height:
// 1 + ⌊(clear − h) / (nests·h)⌋.
func emptyLength(box *plant.Container, side plant.FlowSide, height units.Length) float64 {
	along, _ := box.Along(side)
	stack := int64(1)
	if box.Nests.Sign() > 0 && box.Nests.Cmp(units.Int(1)) < 0 && height < math.MaxInt64 && height > box.Height {
		stack += (height - box.Height).Ratio().Div(box.Nests.Mul(box.Height.Ratio())).Floor()
	}
	return along.MM() / float64(max(1, stack))
}

// need is the length in millimetres that the empties which wait before a visit
// every so many minutes do not exceed at the service level: mean + z·deviation,
// steady loops never more than ⌊e⌋ + 1 each.
func (c *collector) need(minutes float64) float64 {
	var mean, spread, most, looseMean, looseSpread float64
	for _, r := range c.list {
		e := r.rate * minutes
		whole := math.Floor(e + 1e-9)
		part := max(0, e-whole)
		square := (part*(1-part) + r.variance*minutes) * r.along * r.along
		mean += e * r.along
		spread += square
		if r.steady {
			most += (whole + 1) * r.along
		} else {
			looseMean += e * r.along
			looseSpread += square
		}
	}
	return min(mean+c.z*math.Sqrt(spread), most+looseMean+c.z*math.Sqrt(looseSpread))
}

// fitting is the largest interval in whole minutes, shorter than now, at which
// the return lanes suffice; 0 where none does.
func (c *collector) fitting() int {
	for m := int(math.Ceil(c.every.Minutes())) - 1; m > 0; m-- {
		if c.need(float64(m)) <= c.have*(1+1e-12) {
			return m
		}
	}
	return 0
}
