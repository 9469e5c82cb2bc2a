package simulation

import (
	"math"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// newJudge returns the judge of some plays.
func (sc *script) newJudge(plays []*tally) *judge {
	return &judge{sc, plays, normalQuantile(1 - 0.01/float64(max(1, len(sc.loops))))}
}

// result adds up the replications and judges what was measured.
func (j *judge) result() Result {
	r := Result{Settings: j.settings, Seed: j.seed}
	for i := range j.script.loops {
		r.Loops = append(r.Loops, j.loop(i, &r))
	}
	for i := range j.script.routes {
		r.Routes = append(r.Routes, j.route(i, &r))
	}
	r.Racks = j.racks(&r)
	return r
}

// judge turns counts into results.
type judge struct {
	*script
	plays []*tally
	// z is the quantile for a verdict: with it a plan whose loops all keep their
	// service level just so is called short in one play of a hundred, however many
	// loops it has (Bonferroni).
	z float64
}

func (j *judge) loop(i int, r *Result) LoopResult {
	l := &j.script.loops[i]
	res := LoopResult{
		Loop: l.Key, Verdict: NotPlayed, Ideal: l.ideal && l.playable(), Containers: l.containers, Room: l.room,
		Allowed: units.Int(1).Sub(l.ServiceLevel).Float64(),
	}
	if !l.playable() {
		return res
	}
	var sum loopTally
	for _, p := range j.plays {
		sum.add(&p.loops[i])
	}
	j.measure(&res, l, &sum)
	r.Events += sum.wanted + sum.delivered + sum.collected + sum.cycles
	r.Pieces += sum.wanted * l.Pack
	r.Played = max(r.Played, time.Duration(sum.counted))
	return res
}

func (j *judge) measure(res *LoopResult, l *loopPlan, sum *loopTally) {
	res.Cycles, res.ShortCycles, res.Shortages = sum.cycles, sum.shortCycles, sum.shortages
	res.ShortLongest = time.Duration(sum.longest)
	res.OnHandMost, res.LeftBehind, res.Cause = sum.most, sum.left, sum.cause()
	if sum.shortages > 0 {
		res.ShortMean = time.Duration(sum.shortTime / sum.shortages)
	}
	if sum.collected > 0 {
		res.SignalWait = time.Duration(sum.waited / sum.collected)
	}
	if sum.counted > 0 {
		res.OnHandMean = sum.onHand / float64(sum.counted)
	}
	res.FillRate = 1
	if used := float64(sum.wanted) * l.pack; used > 0 {
		res.FillRate = max(0, 1-sum.missing/used)
	}
	j.verdict(res, l)
}

// verdict compares the measured rate with what the service level allows.
func (j *judge) verdict(res *LoopResult, l *loopPlan) {
	if res.Cycles == 0 {
		res.Verdict = NotPlayed
		return
	}
	rate := float64(res.ShortCycles) / float64(res.Cycles)
	n := float64(res.Cycles) / j.clusters(l, rate)
	res.Rate = rate
	res.Low, res.High = wilson(rate, n, normalQuantile(0.975))
	measured := rate
	if l.Measure == plant.ServiceFillRate {
		measured = 1 - res.FillRate
	}
	least, _ := wilson(measured, n, j.z)
	res.Verdict = Proved
	if least > res.Allowed {
		res.Verdict = Short
	}
}

// clusters is the design effect: by how much cycles tell less than as many
// independent ones would (Kish, Survey Sampling, 1965, § 5.4; from memory).
// Neighbouring cycles share part of the time that the loop must live through,
// and what the replications differ by says the rest.
func (j *judge) clusters(l *loopPlan, rate float64) float64 {
	least := 1.0
	if l.interval > 0 {
		least = max(1, float64(l.interval+l.response)/float64(l.interval))
	}
	if len(j.plays) < 2 || rate <= 0 || rate >= 1 {
		return least
	}
	var squares, cycles float64
	for _, p := range j.plays {
		t := &p.loops[l.index]
		if t.cycles == 0 {
			continue
		}
		off := float64(t.shortCycles)/float64(t.cycles) - rate
		squares += off * off
		cycles += float64(t.cycles)
	}
	n := float64(len(j.plays))
	between := squares / (n - 1)
	return max(least, between/(rate*(1-rate)/(cycles/n)))
}

// wilson returns the score interval of a share measured in n tries (Wilson, J.
// American Statistical Association 22, 1927, 209-212).
func wilson(share, n, z float64) (low, high float64) {
	if n <= 0 {
		return 0, 1
	}
	middle := share + z*z/(2*n)
	half := z * math.Sqrt(share*(1-share)/n+z*z/(4*n*n))
	whole := 1 + z*z/n
	return max(0, (middle-half)/whole), min(1, (middle+half)/whole)
}

func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

func (j *judge) route(i int, r *Result) RouteResult {
	plan := &j.script.routes[i]
	var sum routeTally
	for _, p := range j.plays {
		sum.add(&p.routes[i])
	}
	res := RouteResult{
		Route: plan.Route.Route, Rounds: sum.rounds, Late: sum.late, Dropped: sum.dropped,
		LateMost: sum.lateMost, RoundMost: sum.roundMost, Capacity: plan.containers,
		Round95: time.Duration(quantile(sum.times, 0.95)) * grain, Load95: quantile(sum.loads, 0.95),
		LoadMost: max(0, len(sum.loads)-1), LeftBehind: sum.left, FullRounds: sum.full, GapMost: time.Duration(sum.gap),
	}
	if sum.late > 0 {
		res.LateMean = sum.lateTime / time.Duration(sum.late)
	}
	if sum.rounds > 0 {
		res.RoundMean = sum.roundTime / time.Duration(sum.rounds)
		res.LoadMean = float64(sum.load) / float64(sum.rounds)
	}
	r.Events += sum.rounds
	return res
}

// racks lists the racks to which empties come back.
func (j *judge) racks(r *Result) []RackResult {
	sums := make([]rackTally, len(j.script.racks))
	for i := range j.script.routes {
		for _, s := range j.script.routes[i].stops {
			for _, p := range j.plays {
				sums[s.rack].add(&p.stops[s.index])
				r.Events += p.stops[s.index].visits
			}
		}
	}
	var list []RackResult
	for i, sum := range sums {
		if rack := &j.script.racks[i]; sum.most > 0 {
			list = append(list, RackResult{Rack: rack.code, Visits: sum.visits, Overfull: sum.overfull, MostMM: sum.most, RoomMM: rack.room})
		}
	}
	return list
}
