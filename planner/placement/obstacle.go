package placement

import (
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// stage is how far a loop gets on a level before a rule stops it.
type stage int

const (
	notServed stage = iota
	beyondWalk
	noSupply
	tooTall
	tooLong
	tooWide
	tooHeavy
	mayLie
)

// obstacle is the first rule that keeps a loop from one level, whatever else
// lies there.
type obstacle struct {
	stage stage
	rack  *structure.Rack
	level int
	// value and limit are what the rule compares, in nanometres or micrograms.
	value, limit int64
}

// missing is by how much the rule is broken.
func (o obstacle) missing() int64 { return o.value - o.limit }

// obstacleOn finds what keeps loop l from a level of base b.
func (c *cell) obstacleOn(l *loop, b *base, level structure.Level) obstacle {
	o := obstacle{stage: mayLie, rack: &b.rack, level: level.Level.Level}
	if _, ok := slices.BinarySearch(b.rack.Stations, l.Station); !ok {
		o.stage = notServed
		return o
	}
	if !near(l.station, &b.rack) {
		o.stage = beyondWalk
		o.value, o.limit = int64(distance(l.station, &b.rack)*float64(units.Metre)), int64(l.station.WalkLimit)
		return o
	}
	if level.Kind != plant.Supply {
		o.stage = noSupply
		return o
	}
	col := c.column(level, b.limited)
	widest := col.width - c.guide
	if col.fixed != nil {
		widest = slices.Max(append([]int64{0}, col.fixed...))
	}
	if o.value, o.limit = int64(l.box.Height+c.set.HandClearance), int64(level.ClearHeight); o.value > o.limit {
		o.stage = tooTall
		return o
	}
	long, wide := boundless, boundless
	for _, side := range l.box.Sides() {
		along, across := l.box.Along(side)
		if long = min(long, int64(along)); along <= level.LaneLength {
			wide = min(wide, int64(across+2*c.set.SideClearance))
		}
	}
	if o.value, o.limit = long, int64(level.LaneLength); o.value > o.limit {
		o.stage = tooLong
		return o
	}
	if o.value, o.limit = wide, widest; o.value > o.limit {
		o.stage = tooWide
		return o
	}
	if o.value, o.limit = l.gross, min(col.mass, b.load); o.value > o.limit {
		o.stage = tooHeavy
	}
	return o
}

// farthest returns the level on which l gets farthest, ties by what is missing
// least.
func (c *cell) farthest(l *loop, bases []base, allowed func(*structure.Rack, int) bool) (obstacle, bool) {
	var best obstacle
	found := false
	for k := range bases {
		for _, level := range bases[k].rack.Levels {
			if !allowed(&bases[k].rack, level.Level.Level) {
				continue
			}
			o := c.obstacleOn(l, &bases[k], level)
			if !found || o.stage > best.stage || (o.stage == best.stage && o.missing() < best.missing()) {
				best, found = o, true
			}
		}
	}
	return best, found
}

// blocked describes an obstacle that no other layout would take away.
func (c *cell) blocked(l *loop, o obstacle) finding.Finding {
	where := ""
	subject := finding.Subject{Level: o.level}
	if o.rack != nil {
		where = fmt.Sprintf("level %d of rack %s", o.level, o.rack.Rack)
		subject.Rack, subject.RackType = string(o.rack.Rack), string(o.rack.Type.RackType)
		if o.rack.Proposed {
			where = fmt.Sprintf("level %d of rack type %s", o.level, o.rack.Type.RackType)
		}
	}
	f := finding.Finding{Subject: subject}
	length := func(l int64) units.Length { return units.Length(l) }
	switch o.stage {
	case notServed:
		f.Subject.Level, f.Subject.Rack, f.Subject.RackType = 0, "", ""
		f.Code, f.Summary = CodeNoRack, "no rack serves the station"
		f.Detail = fmt.Sprintf("No rack of cell %s serves station %s, and no rack type is allowed there of which one could be added.", l.Cell, l.Station)
		f.Remedy = "Add the station to a rack, or allow the cell a rack type."
	case beyondWalk:
		f.Subject.Level = 0
		f.Code, f.Measure = CodeBeyondWalk, &finding.Measure{Value: length(o.value).Metres(), Limit: length(o.limit).Metres(), Unit: "m"}
		f.Summary = fmt.Sprintf("the nearest rack is %.2f m away, its walk limit is %.2f m", f.Measure.Value, f.Measure.Limit)
		f.Detail = fmt.Sprintf("Every rack that serves station %s stands farther in a straight line than the %.2f m its operator may be sent; the nearest is %.2f m away.", l.Station, f.Measure.Limit, f.Measure.Value)
		f.Remedy = fmt.Sprintf("Raise the walk limit by %.2f m, or move a rack.", length(o.missing()).Metres())
	case noSupply:
		f.Code, f.Summary = CodeNoSupply, "the racks that serve the station have no supply level"
		f.Detail = fmt.Sprintf("Parts lie on supply levels; the racks near station %s have return levels only.", l.Station)
		f.Remedy = "Add a supply level, or a rack that has one."
	case tooHeavy:
		f.Code, f.Measure = CodeTooHeavy, &finding.Measure{Value: units.Mass(o.value).KG(), Limit: units.Mass(o.limit).KG(), Unit: "kg"}
		f.Summary = fmt.Sprintf("one container weighs %s, %s carries %s", units.Mass(o.value), where, units.Mass(o.limit))
		f.Detail = fmt.Sprintf("Already one full container of %s is more than %s may carry, and no other level comes nearer.", units.Mass(o.value), where)
		f.Remedy = fmt.Sprintf("Take at least %s out of the container by a smaller standard pack, or use a level that carries more.", units.Mass(o.missing()))
	default:
		f.Measure = &finding.Measure{Value: length(o.value).MM(), Limit: length(o.limit).MM(), Unit: "mm"}
		c.unfit(&f, o, where)
	}
	return f
}

// unfit describes a container that is too tall, long or wide.
func (c *cell) unfit(f *finding.Finding, o obstacle, where string) {
	value, limit, missing := units.Length(o.value), units.Length(o.limit), units.Length(o.missing())
	switch o.stage {
	case tooTall:
		f.Code = CodeTooTall
		f.Summary = fmt.Sprintf("it needs %s of height, %s has %s", value, where, limit)
		f.Detail = fmt.Sprintf("The container and the hand clearance of %s need a clear height of %s; %s comes nearest with %s.", c.set.HandClearance, value, where, limit)
		f.Remedy = fmt.Sprintf("Raise the clear height by %s, or use a lower container.", missing)
	case tooLong:
		f.Code = CodeTooLong
		f.Summary = fmt.Sprintf("its container is %s along the lane, %s has lanes of %s", value, where, limit)
		f.Detail = fmt.Sprintf("On the flow sides it allows, the container needs a lane of %s; %s comes nearest with %s.", value, where, limit)
		f.Remedy = fmt.Sprintf("Use lanes longer by %s, another flow side or another container.", missing)
	default:
		f.Code = CodeTooWide
		f.Summary = fmt.Sprintf("one lane needs %s, %s has %s", value, where, limit)
		f.Detail = fmt.Sprintf("One lane with the side clearance of %s on both sides needs %s; the widest that %s offers is %s.", c.set.SideClearance, value, where, limit)
		f.Remedy = fmt.Sprintf("Widen the level or its lane by %s, or use another container.", missing)
	}
}
