// Package recompute checks a plan document against the sheets it was made
// from. It reads both as text, shares no code with the planner and computes
// every rule of a plan again with its own formulas, so that a mistake made
// once is not made twice. It wants a canonical folder of CSV files.
package recompute

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
)

// Folder checks the plan document at planPath against the CSV folder dir and
// returns what does not agree, one line each.
func Folder(dir, planPath string) ([]string, error) {
	data, err := os.ReadFile(planPath)
	if err != nil {
		return nil, fmt.Errorf("read plan: %w", err)
	}
	return Check(dir, data)
}

// Check checks the plan document data against the CSV folder dir.
func Check(dir string, data []byte) ([]string, error) {
	f, err := readFacts(dir)
	if err != nil {
		return nil, err
	}
	var p document
	if err := json.Unmarshal(data, &p); err != nil {
		return nil, fmt.Errorf("read plan: %w", err)
	}
	j := &judge{facts: f, plan: &p}
	j.prepare()
	j.loops()
	j.lanes()
	j.neighbours()
	j.loads()
	j.proposals()
	j.pins()
	j.bounds()
	j.routes()
	j.timetable()
	j.handlers()
	j.empties()
	j.moves()
	j.summary()
	return j.wrong, nil
}

// judge collects disagreements.
type judge struct {
	facts *facts
	plan  *document
	wrong []string

	loopOf  map[key]*planLoop
	rackOf  map[string]*planRack
	reasons map[string]bool
}

type key struct{ part, cell, station string }

func (j *judge) say(format string, args ...any) {
	j.wrong = append(j.wrong, fmt.Sprintf(format, args...))
}

// near compares with a relative tolerance of one in a million.
func (j *judge) near(got, want float64, format string, args ...any) {
	if math.Abs(got-want) > 1e-6*math.Max(1, math.Abs(want)) {
		j.say("%s: plan says %v, the sheets give %v", fmt.Sprintf(format, args...), got, want)
	}
}

func (j *judge) prepare() {
	j.loopOf, j.rackOf, j.reasons = map[key]*planLoop{}, map[string]*planRack{}, map[string]bool{}
	for i := range j.plan.Loops {
		l := &j.plan.Loops[i]
		if j.loopOf[l.key()] != nil {
			j.say("loop %v stands twice", l.key())
		}
		j.loopOf[l.key()] = l
	}
	for i := range j.plan.Racks {
		r := &j.plan.Racks[i]
		if j.rackOf[r.Rack] != nil {
			j.say("rack %s stands twice", r.Rack)
		}
		j.rackOf[r.Rack] = r
	}
	j.plan.Lanes = slices.DeleteFunc(j.plan.Lanes, func(l planLane) bool {
		unknown := j.rackOf[l.Rack] == nil || l.Part != "" && j.loopOf[l.key()] == nil
		if unknown {
			j.say("lane %d of rack %s level %d holds %v: no such rack or loop", l.Lane, l.Rack, l.Level, l.key())
		}
		return unknown
	})
	for _, f := range j.plan.Findings {
		j.reasons[f.Code] = true
	}
}
