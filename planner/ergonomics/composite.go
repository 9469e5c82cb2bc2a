package ergonomics

import (
	"cmp"
	"math"
	"slices"

	"lanewright/planner/units"
)

// Share is one of the lifts of a job.
type Share struct {
	Lift Lift
	// Most and Mean are the greatest and the mean load.
	Most, Mean units.Mass
}

// rated is a lift with its single-task index, in which its frequency counts,
// and its frequency-independent one.
type rated struct {
	lift       Lift
	stli, fili float64
}

// Composite returns the composite lifting index of a job of several lifts
// (pp. 26-28): lifts by falling single-task index,
//
//	CLI = STLI₁ + Σ FILIⱼ·(1/FM(F₁+…+Fⱼ) − 1/FM(F₁+…+Fⱼ₋₁)),
//
// where both FM take the height of lift j and the duration of the job, which is
// that of its lifts. A job of one lift has its lifting index, one of none 0.
// It is +Inf where nothing may be lifted so often.
func (q Equation) Composite(job []Share) float64 {
	if len(job) == 0 {
		return 0
	}
	list := make([]rated, len(job))
	for i, s := range job {
		list[i] = q.rate(s)
	}
	slices.SortStableFunc(list, func(a, b rated) int {
		return cmp.Or(cmp.Compare(b.stli, a.stli), cmp.Compare(b.fili, a.fili))
	})
	sum, often := list[0].stli, list[0].lift.PerMinute
	if math.IsInf(sum, 1) {
		return sum
	}
	for _, r := range list[1:] {
		before := q.often(r.lift, often)
		often += r.lift.PerMinute
		after := q.often(r.lift, often)
		if after == 0 {
			return math.Inf(1)
		}
		sum += r.fili * (1/after - 1/before)
	}
	if q.Manual {
		return halfUp(sum, 10)
	}
	return sum
}

// rate works the single indices of one share.
func (q Equation) rate(s Share) rated {
	once := s.Lift
	once.PerMinute, once.Duration = 0, Short
	free := q.lower(once)
	limit := free * q.often(s.Lift, s.Lift.PerMinute)
	if q.Manual {
		limit = halfUp(limit, 10)
	}
	r := rated{lift: s.Lift, stli: q.weight(s.Mean) / limit, fili: q.weight(s.Most) / free}
	if q.Manual {
		r.stli, r.fili = halfUp(r.stli, 10), halfUp(r.fili, 100)
	}
	return r
}

// often is FM of a lift at another frequency.
func (q Equation) often(l Lift, perMinute float64) float64 {
	c := &sets[q.Set]
	fm := c.frequency(perMinute, l.Duration, c.of(l.Origin.Height))
	if q.Manual {
		return halfUp(fm, 100)
	}
	return fm
}
