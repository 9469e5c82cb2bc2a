package simulation

import (
	"context"
	"slices"
)

// tries is how many containers more are tried for a loop that ran short.
const tries = 5

// enough plays the loops that ran short again with one container more, and one
// more, until they are proved, and notes how many it took. Where a full vehicle
// was the cause more containers do not help, and none are tried.
func (sc *script) enough(ctx context.Context, r *Result, threads int) error {
	var open []int
	for i := range r.Loops {
		if l := &r.Loops[i]; l.Verdict == Short && l.Cause != CauseCapacity {
			open = append(open, i)
		}
	}
	more := *sc
	more.loops = slices.Clone(sc.loops)
	for i := range more.loops {
		more.loops[i].homes = slices.Clone(more.loops[i].homes)
	}
	for try := 0; try < tries && len(open) > 0; try++ {
		for _, i := range open {
			more.loops[i].homes[0].containers++
			more.loops[i].containers++
		}
		plays, err := more.play(ctx, more.teamsOf(open), threads, nil)
		if err != nil {
			return err
		}
		j := more.newJudge(plays)
		open = slices.DeleteFunc(open, func(i int) bool {
			res := j.loop(i, &Result{})
			if res.Verdict == Proved {
				r.Loops[i].Enough = res.Containers
			}
			return res.Verdict == Proved
		})
	}
	return nil
}

// teamsOf returns the teams of some loops, each once, in order.
func (sc *script) teamsOf(loops []int) []int {
	var teams []int
	for i := range sc.teams {
		if slices.ContainsFunc(sc.teams[i].loops, func(l int) bool { return slices.Contains(loops, l) }) {
			teams = append(teams, i)
		}
	}
	return teams
}
