// Package demand turns products, their mix and the usage rows into the use of
// each part at each station: the replenishment loops of the plant.
package demand

import (
	"cmp"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Key names a loop: one part at one station.
type Key struct {
	Part    plant.PartCode
	Cell    plant.CellCode
	Station plant.StationCode
}

// Compare orders keys by cell, station and part.
func (k Key) Compare(o Key) int {
	return cmp.Or(cmp.Compare(k.Cell, o.Cell), cmp.Compare(k.Station, o.Station), cmp.Compare(k.Part, o.Part))
}

// Loop is the use of one part at one station and what its rows ask for.
type Loop struct {
	Key
	Container plant.ContainerCode
	// Pack is pieces per full container, 1 or more.
	Pack int64
	// Rate is pieces per net minute, 0 or more.
	Rate units.Ratio
	// Variance is the variance of the use over one net minute, in pieces²;
	// over T net minutes it is Variance·T (days independent).
	Variance units.Ratio
	// Day is the net minutes of one working day of the loop's cell.
	Day units.Ratio
	// Interval is the refill interval; Response the time from collecting a
	// signal to the full container at the lane. Net time.
	Interval, Response time.Duration
	// Wait is the longest time until a signal is collected where that is more than
	// Interval and the plan covers it, as it does the ends of shifts on request;
	// else 0.
	Wait time.Duration
	// ServiceLevel is a share, 0 < s < 1. Where the plant allows so many shortages
	// a year it is what that leaves for one cycle. Safety is alpha, 0 or more.
	ServiceLevel, Safety units.Ratio
	// Measure says what ServiceLevel promises: plant.ServiceFillRate or, for the
	// other two measures, plant.ServicePerCycle.
	Measure plant.ServiceMeasure
	// Model is never DefaultModel and never FixedModel.
	Model plant.DemandModel
	// Fixed is the number of containers the sheet fixes, 0 for none.
	Fixed int
	// Days is the use of each day of history, by date, where Model is
	// empirical; otherwise empty.
	Days []units.Ratio
	// Sources are the rows the rate came from, by product and place.
	Sources []Source
	// Origin is the first of those rows.
	Origin finding.Origin
}

// Source is one row's part of a loop's rate.
type Source struct {
	// Product is empty for a direct row.
	Product plant.ProductCode
	// Rate is in pieces per net minute.
	Rate   units.Ratio
	Origin finding.Origin
}

// Window is the time a loop must live through: R + L, in net minutes, or Wait + L.
func (l Loop) Window() units.Ratio { return units.Minutes(max(l.Interval, l.Wait) + l.Response) }

// Containers returns the mean number of containers used in d of net time.
func (l Loop) Containers(d time.Duration) units.Ratio {
	return l.Rate.Mul(units.Minutes(d)).Div(units.Int(l.Pack))
}
