package ergonomics

import "lanewright/planner/finding"

// Indices are the lifting indices of refilling and picking; ok is false of what is
// lighter than 3 kg, which is not judged.
type Indices struct {
	Refill, Pick     float64
	RefillOK, PickOK bool
}

// Indices returns the lifting indices of t, infinite where the equation recommends
// no lift at all.
func (t Task) Indices(s Settings) (i Indices) {
	if i.RefillOK = t.Gross >= lightest; i.RefillOK {
		i.Refill = t.refill(s).Index(t.Gross)
	}
	if i.PickOK = t.Piece >= lightest; i.PickOK {
		i.Pick = t.pick(s).Index(t.held())
	}
	return i
}

// Job is a round's refilling or a station's picking as a whole.
type Job struct {
	// Subject names the route, or the cell and station.
	Subject finding.Subject
	// Lifts is its kinds of lift of 3 kg or more, Index their composite index.
	Lifts int
	Index float64
}

// Jobs returns the composite index of each round and of each station at which
// anything of 3 kg or more is lifted, in the order of the tasks.
func Jobs(tasks []Task, s Settings) (rounds, stations []Job) {
	r, p := jobsOf(tasks, s)
	return r.indices(), p.indices()
}

func (j *jobs) indices() (list []Job) {
	for i, lifts := range j.lists {
		list = append(list, Job{j.subs[i], len(lifts), Equation{}.Composite(lifts)})
	}
	return list
}
