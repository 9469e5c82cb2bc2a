package simulation

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"lanewright/planner/search"
)

// Play plays a plan by so many threads at once, which change nothing in the
// result: each loop of each replication has a random stream of its own, and what
// was counted is added up in the order of the replications.
//
// In each replication all lanes are full at the beginning and the container in
// use is a random part empty; the run-in is then played and forgotten. Pieces
// are used by the demand models or, with Settings.Use, by the products that are
// built. A container that is wanted when none is there is missing until the next
// one comes, and what was not used in between is caught up. Handlers leave by
// the timetable, or when they are back from their last round where that took
// longer; they are at a stop when the plan says, counted from when they left. At
// each stop they hand over what they brought and take as many signals along as
// the vehicle holds full containers; the rest waits for the next round. What was
// taken comes on the next round where the loop's response time is the route's
// interval (exchange), else the response time later.
//
// It fails with the error of ctx, with ErrTooMuch, and where nobody knows the time
// zone.
func Play(ctx context.Context, in Input, s Settings, seed uint64, threads int, progress search.Progress) (Result, error) {
	sc, err := newScript(in, s.bounded(), seed)
	if err != nil {
		return Result{}, err
	}
	if err := sc.affordable(); err != nil {
		return Result{}, err
	}
	all := make([]int, len(sc.teams))
	for i := range all {
		all[i] = i
	}
	plays, err := sc.play(ctx, all, threads, progress)
	if err != nil {
		return Result{}, err
	}
	r := sc.newJudge(plays).result()
	if err := sc.enough(ctx, &r, threads); err != nil {
		return Result{}, err
	}
	r.Findings = sc.findings(&r)
	return r, nil
}

// bounded returns settings that can be played.
func (s Settings) bounded() Settings {
	s.Weeks, s.WarmUp, s.Replications = max(1, s.Weeks), max(0, s.WarmUp), max(1, s.Replications)
	if s.Use == "" {
		s.Use = UseModel
	}
	return s
}

// tally is what one replication counted: of loops, routes and stops, by their
// places in the script. Each belongs to one team, so teams never share a place.
type tally struct {
	loops  []loopTally
	routes []routeTally
	stops  []rackTally
}

func (sc *script) newTally() *tally {
	return &tally{make([]loopTally, len(sc.loops)), make([]routeTally, len(sc.routes)), make([]rackTally, sc.stops)}
}

// play plays some teams in every replication.
func (sc *script) play(ctx context.Context, teams []int, threads int, progress search.Progress) ([]*tally, error) {
	plays := make([]*tally, sc.settings.Replications)
	for i := range plays {
		plays[i] = sc.newTally()
	}
	var done atomic.Int64
	total := len(teams) * len(plays)
	progress.Report("simulation", 0, total)
	work, ctx := errgroup.WithContext(ctx)
	work.SetLimit(max(1, threads))
	for r := range plays {
		for _, t := range teams {
			work.Go(func() error {
				if err := sc.playTeam(ctx, &sc.teams[t], r, plays[r], nil); err != nil {
					return err
				}
				progress.Report("simulation", int(done.Add(1)), total)
				return nil
			})
		}
	}
	return plays, work.Wait()
}

// playTeam plays one team once and writes what it counted into its places of the
// tally. It fails when ctx has ended: what was counted is then of no use.
func (sc *script) playTeam(ctx context.Context, t *team, replication int, into *tally, traced *tracer) error {
	p := teamPlay{script: sc, ctx: ctx, team: t, tally: into, loops: make([]loopPlay, len(t.loops)), traced: traced != nil}
	for at, w := range sc.uses(t, replication) {
		i := t.loops[at]
		p.loops[at] = newLoopPlay(&sc.loops[i], w)
		if traced != nil && traced.loop == i {
			p.loops[at].tracer = traced
		}
	}
	if len(t.routes) == 0 {
		l := p.loops[0].loopPlan
		p.playIdeal(sc.stream("round", l, replication).Int64N(max(1, l.interval)))
	} else {
		p.play()
	}
	for at, i := range t.loops {
		into.loops[i] = p.loops[at].tally
	}
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("play the plan: %w", err)
	}
	return nil
}

// stream returns the random stream of a loop for one thing in one replication.
func (sc *script) stream(what string, l *loopPlan, replication int) *rand.Rand {
	name := []string{"simulation", what, string(l.Cell), string(l.Station), string(l.Part), strconv.Itoa(replication)}
	return search.Stream(sc.seed, strings.Join(name, "/"))
}
