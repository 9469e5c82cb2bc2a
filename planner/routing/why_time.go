package routing

import (
	"time"
)

// Spent says where the time of a route goes, in each interval.
type Spent struct {
	Route string
	// Driving, Stopping, Loading, Unloading and Empties add up to Round, at the planned
	// load: ways, the time of each stop, containers at the market and at the racks, and
	// empties taken back.
	Driving, Stopping, Loading, Unloading, Empties, Round time.Duration
	// Others is the time of the handler's other rounds in one interval of this route,
	// Waiting what is left of the interval.
	Others, Waiting, Interval time.Duration
}

// Time tells where the time of a route's round goes; ok is false where the plan has none
// of that name.
func (r *Reasons) Time(route string) (s Spent, ok bool) {
	for i := range r.laid.routes {
		if r.laid.routes[i].Route == route {
			return r.laid.spent(i), true
		}
	}
	return s, false
}

func (l *laid) spent(i int) Spent {
	t, r := l.tours[i], l.routes[i]
	v := t.vehicle
	planned := t.need.planned(v.bare.z)
	s := Spent{
		Route: r.Route, Round: t.round, Interval: r.Interval,
		Driving: t.drive.Time, Stopping: time.Duration(len(t.stops)) * v.StopTime,
		Loading: t.loading, Empties: whole(t.need.empties * float64(v.EmptyTime)),
	}
	s.Unloading = whole(planned * float64(v.UnloadTime))
	// Each part was rounded to the nanosecond; the sum is the round's.
	s.Unloading += s.Round - s.Driving - s.Stopping - s.Loading - s.Unloading - s.Empties
	for k, other := range l.routes {
		if k != i && other.Handler == r.Handler {
			s.Others += time.Duration(float64(other.Round) * float64(r.Interval) / float64(other.Interval))
		}
	}
	s.Waiting = s.Interval - s.Round - s.Others
	return s
}
