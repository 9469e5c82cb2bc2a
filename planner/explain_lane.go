package planner

import (
	"fmt"
	"math"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
)

// result tells from what must be covered to how many containers that is, and what
// other ways of signalling would need.
func (x *explainer) result() Section {
	s := Section{Title: "What came out"}
	l := x.loop
	lives := people(math.Round(10*l.Window().Float64())/10) + " min"
	over := "R + L"
	if l.Wait > l.Interval {
		over = "the longest wait and L"
		s.say(fmt.Sprintf("At the end of a shift a signal waits up to %s for its round, longer than R; the plan was asked to cover that.", wait(l.Wait)))
	}
	s.say(fmt.Sprintf("Over %s, %s, %s pieces are used in the mean. The rule covers D = %s.", over, lives, people(l.Mean.Float64()), people(l.Covered.Float64())))
	s.say(fmt.Sprintf("%s / %d, rounded up, is %s. One more is being emptied: %s%s.",
		people(l.Covered.Float64()), l.Pack, counted(l.Cards, "card"), counted(l.Rule, "container"), atLeast(l.Loop)))
	if l.Fixed > 0 {
		at := slices.IndexFunc(x.rows, func(u plant.Usage) bool { return u.Containers == l.Fixed })
		s.say(fmt.Sprintf("The sheet fixes the loop at %s all the same.", counted(l.Containers, "container")),
			Value{Name: "containers", Text: fmt.Sprint(l.Fixed), Origin: x.plant.At(x.rows[at].Origin, "Containers")})
	}
	s.say(fmt.Sprintf("An empty may wait so long for its round, and its full container comes L later: the loop lives through both, %s. Were the signal called in at once, by a button or a scan, it would live through the longer of the two, %s, and need %s.",
		lives, wait(max(l.Interval, l.Response)), counted(sizing.OneInterval(l.Loop), "container")))
	s.say(fmt.Sprintf("A round carries %s of its containers in the mean: what one interval uses, not two.", people(sizing.TrainSpace(l.Loop).Float64())))
	return s
}

// atLeast says where the rule's least number counts.
func atLeast(l sizing.Loop) string {
	if l.Cards+1 < l.Rule {
		return ", the fewest a loop may have"
	}
	return ""
}

// marks tells what a sign at the lane would say.
func (x *explainer) marks() Section {
	s := Section{Title: "On the lane"}
	m := sizing.Marks(x.loop.Loop)
	s.say(fmt.Sprintf("At most %s lie there, the one in use among them.", counted(m.Max, "container")))
	s.say(fmt.Sprintf("When the handler comes by, at least %s should be full: with fewer it may run dry before what he collects now is there.", counted(m.Min, "container")))
	if left := int64(m.Max-1) * x.loop.Pack; left < m.Reorder {
		s.say(fmt.Sprintf("Each emptied container is a signal. It would have to be given with %d pieces on hand, and after the first container only %d are left: the loop may run dry.", m.Reorder, left))
		return s
	}
	s.say(fmt.Sprintf("Each emptied container is a signal. It must be given with %d pieces on hand at the latest.", m.Reorder))
	return s
}

// lies tells where the loop lies and who brings it.
func (x *explainer) lies() Section {
	s := Section{Title: "Where it lies"}
	for _, level := range x.levels() {
		first := level[0]
		held := 0
		for _, lane := range level {
			held += lane.Containers
		}
		s.say(fmt.Sprintf("On rack %s, level %d, %s: %s of up to %s each, %s along the lane.",
			first.Rack, first.Level, laneNumbers(level), counted(held, "container"), fmt.Sprint(first.Capacity), sideName(first.Side)))
	}
	for _, u := range x.plan.Unplaced {
		if u.Loop == x.loop.Key {
			s.say(fmt.Sprintf("%s without a lane. %s", counted(u.Containers, "container"), u.Detail))
		}
	}
	x.brought(&s)
	return s
}

// levels are the loop's lanes, those on one level of a rack together.
func (x *explainer) levels() [][]placement.Lane {
	var list [][]placement.Lane
	for _, lane := range x.plan.Lanes {
		if lane.Loop != x.loop.Key {
			continue
		}
		if at := len(list) - 1; at >= 0 && list[at][0].Rack == lane.Rack && list[at][0].Level == lane.Level {
			list[at] = append(list[at], lane)
			continue
		}
		list = append(list, []placement.Lane{lane})
	}
	return list
}

func laneNumbers(level []placement.Lane) string {
	if len(level) == 1 {
		return fmt.Sprintf("lane %d", level[0].Lane)
	}
	var numbers []string
	for _, lane := range level {
		numbers = append(numbers, fmt.Sprint(lane.Lane))
	}
	return "lanes " + finding.And(numbers)
}

func sideName(s plant.FlowSide) string {
	if s == plant.WidthAlong {
		return "its width"
	}
	return "its length"
}

// brought tells which routes bring the loop's containers.
func (x *explainer) brought(s *Section) {
	served := false
	for _, r := range x.plan.Routes {
		for i, stop := range r.Stops {
			if !slices.Contains(stop.Loops, x.loop.Key) {
				continue
			}
			served = true
			s.say(fmt.Sprintf("Route %s of handler %s brings it every %s, at stop %d of %d (rack %s), %s after it leaves the market.",
				r.Route, r.Handler, wait(r.Interval), i+1, len(r.Stops), stop.Rack, wait(stop.Arrive)) + sooner(r, x.loop))
		}
	}
	if !served {
		s.say("No route of the plan brings it.")
	}
}

// sooner says where a rack is served more often than the loop was sized for.
func sooner(r routing.Route, l Loop) string {
	if r.Interval >= l.Interval {
		return ""
	}
	return fmt.Sprintf(" That is more often than the %s it is sized for.", wait(l.Interval))
}
