package ergonomics

import (
	"fmt"
	"math"

	"lanewright/planner/finding"
)

// JudgeJobs returns what is to be said of the jobs that tasks make up: the
// refilling of a whole round, and the picking of all pieces at a station, each by
// its composite index. Lifts below 3 kg are none. A job of one lift has its own
// finding already.
func JudgeJobs(tasks []Task, s Settings) finding.List {
	rounds, stations := jobsOf(tasks, s)
	return append(rounds.judge("Refilling a round of ", "Split the round, place its heavy loops nearer to the deck's height, use smaller packs, or lift with an aid."),
		stations.judge("Picking at ", "Place heavy parts nearer to 750 mm, share the work over more people, or lift with an aid.")...)
}

// jobsOf gathers the lifts of 3 kg or more by round and by station.
func jobsOf(tasks []Task, s Settings) (rounds, stations *jobs) {
	rounds, stations = newJobs(CodeRound), newJobs(CodeStation)
	for _, t := range tasks {
		if t.Route != "" && t.Gross >= lightest {
			l := t.refill(s)
			l.PerMinute = perMinute(t.Own(), t.Round)
			rounds.add("route "+t.Route, finding.Subject{Route: t.Route}, Share{l, t.Gross, t.Gross})
		}
		if t.Piece >= lightest {
			l := t.pick(s)
			l.PerMinute *= t.Share
			at := finding.Subject{Cell: t.Subject.Cell, Station: t.Subject.Station}
			stations.add(fmt.Sprintf("station %s of cell %s", at.Station, at.Cell), at, Share{l, t.held(), t.held()})
		}
	}
	return rounds, stations
}

// jobs are the lifts of rounds or stations, in the order in which they came.
type jobs struct {
	code  string
	at    map[string]int
	names []string
	subs  []finding.Subject
	lists [][]Share
}

func newJobs(code string) *jobs { return &jobs{code: code, at: map[string]int{}} }

func (j *jobs) add(name string, subject finding.Subject, s Share) {
	i, ok := j.at[name]
	if !ok {
		i = len(j.names)
		j.at[name] = i
		j.names, j.subs, j.lists = append(j.names, name), append(j.subs, subject), append(j.lists, nil)
	}
	j.lists[i] = append(j.lists[i], s)
}

// judge grades the composite index of every job of two lifts or more.
func (j *jobs) judge(doing, remedy string) finding.List {
	var list finding.List
	for i, name := range j.names {
		f := finding.Finding{Code: j.code, Subject: j.subs[i], Source: source, Remedy: remedy}
		index := Equation{}.Composite(j.lists[i])
		if len(j.lists[i]) < 2 || !grade(&f, index) {
			continue
		}
		where := fmt.Sprintf("%s%s is %d kinds of lift", doing, name, len(j.lists[i]))
		f.Summary = fmt.Sprintf("%s: composite lifting index %.2f", where, index)
		if math.IsInf(index, 1) {
			f.Summary = where + ", together more than the equation allows at all"
			f.Measure = &finding.Measure{Value: j.often(i), Limit: fastest, Unit: "lifts/min"}
		}
		f.Detail = "The composite index adds to the heaviest lift's index what every other lift adds by its mass and by how often all of them together are done. Over 1 some workers, over 3 many are at raised risk." + caution
		list = append(list, f)
	}
	return list
}

// often is the lifts a minute of a whole job.
func (j *jobs) often(i int) float64 {
	sum := 0.0
	for _, s := range j.lists[i] {
		sum += s.Lift.PerMinute
	}
	return sum
}
