package planner

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// containers tells which of the plant's containers would serve.
func (x *explainer) containers() Section {
	s := Section{Title: "In other containers"}
	level, name, ok := x.level()
	if !ok {
		s.say("No rack type has a supply level to compare them on.")
		return s
	}
	limits := sizing.DefaultLimits(level)
	choices, out := sizing.ContainerChoices(x.index, x.loop.Loop, x.settings, limits)
	s.say(fmt.Sprintf("Compared on %s. A container moved by hand may have %s; packs of other containers are estimated by volume.", name, limits.HandMass))
	for _, c := range choices {
		s.say(choiceText(c))
	}
	var no []string
	for _, e := range out {
		no = append(no, string(e.Container)+" ("+excluded(e)+")")
	}
	if len(no) > 0 {
		s.say("No choice: " + strings.Join(no, ", ") + ".")
	}
	return s
}

// level is the level on which containers are compared: where the loop lies, else
// the first supply level of the plant's first rack type by code.
func (x *explainer) level() (plant.Level, string, bool) {
	for _, lane := range x.plan.Lanes {
		if lane.Loop != x.loop.Key {
			continue
		}
		for _, r := range x.plan.Racks {
			if r.Rack == lane.Rack {
				at := slices.IndexFunc(r.Levels, func(l structure.Level) bool { return l.Level.Level == lane.Level })
				return r.Levels[at].Level, fmt.Sprintf("its level %d of rack %s", lane.Level, lane.Rack), true
			}
		}
	}
	var first *plant.RackType
	for _, t := range x.index.RackTypes {
		if first == nil || t.RackType < first.RackType {
			first = t
		}
	}
	if first != nil {
		for _, l := range first.Levels {
			if l.Kind == plant.Supply {
				return l, fmt.Sprintf("level %d of rack type %s", l.Level, first.RackType), true
			}
		}
	}
	return plant.Level{}, "", false
}

func choiceText(c sizing.ContainerChoice) string {
	text := fmt.Sprintf("%s of %s, %s kg gross", c.Container, counted(int(c.Pack), "piece"), people(c.Gross.KG()))
	if c.Current {
		text = "Today " + text
	}
	if c.Obstacle != sizing.Fits {
		return fmt.Sprintf("%s: it does not fit the level, its %s is too large.", text, c.Obstacle)
	}
	return fmt.Sprintf("%s: %s in %s, %s mm wide, %s refills an hour, effort %s kg/h.", text, counted(c.Containers, "container"),
		counted(c.Lanes, "lane"), people(c.TotalWidth.MM()), people(c.RefillsPerHour.Float64()), people(c.Effort))
}

func excluded(e sizing.Exclusion) string {
	switch e.Reason {
	case sizing.OnePieceTooHeavy:
		return "too heavy with a single piece"
	case sizing.OnePieceTooLarge:
		return "too small for a single piece, by the room that a piece has now"
	case sizing.HigherThanLevel:
		return "too high for the level"
	case sizing.LongerThanLevel:
		return "too long for the level"
	default:
		return "no better than " + string(e.By) + " in anything"
	}
}

// steps tells what would give the loop another number of containers.
func (x *explainer) steps() Section {
	s := Section{Title: "What would change it"}
	for _, step := range sizing.Steps(x.loop.Loop) {
		s.say(stepText(step, x.loop.Rule))
	}
	switch {
	case x.loop.Fixed > 0:
		s.say("Nothing but the sheet: the number is fixed there.")
	case len(s.Sentences) == 0:
		s.say("Nothing within four times or a quarter of what is given.")
	}
	return s
}

// stepText is "One container more if usage rises by more than 4.2 %, above 83.3
// pieces an hour." Only what rises has a threshold that still has the old number.
func stepText(s sizing.Step, now int) string {
	name, value := stepInput(s.Input, s.To)
	unit := "%"
	if s.Input == sizing.ServiceInput || s.Input == sizing.SafetyInput {
		unit = "percentage points"
	}
	change := people(math.Round(100*math.Abs(s.ChangePercent.Float64()))/100) + " " + unit
	how := "falls by " + change + ", to"
	switch {
	case s.Exclusive && s.To.Equal(s.From):
		how = "rises at all, above"
	case s.Exclusive:
		how = "rises by more than " + change + ", above"
	case s.To.Cmp(s.From) > 0:
		how = "rises by " + change + ", to"
	}
	return fmt.Sprintf("%s if %s %s %s.", difference(s.Containers-now), name, how, value)
}

func difference(n int) string {
	switch {
	case n == 1:
		return "One container more"
	case n == -1:
		return "One container fewer"
	case n > 0:
		return fmt.Sprintf("%d containers more", n)
	default:
		return fmt.Sprintf("%d containers fewer", -n)
	}
}

// stepInput names an input and writes a value of it.
func stepInput(in sizing.Input, v units.Ratio) (name, value string) {
	f := v.Float64()
	switch in {
	case sizing.UsageInput:
		return "usage", people(f) + " pieces an hour"
	case sizing.IntervalInput:
		return "the refill interval", people(f) + " min"
	case sizing.CycleInput:
		return "the refill interval, and the response time with it,", people(f) + " min"
	case sizing.ResponseInput:
		return "the response time", people(f) + " min"
	case sizing.PackInput:
		return "the standard pack", people(f) + " pieces"
	case sizing.ServiceInput:
		return "the service level", share100(v)
	case sizing.SafetyInput:
		return "the safety", share100(v)
	default:
		return "the " + string(in) + " of daily use", people(f)
	}
}
