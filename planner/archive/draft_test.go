package archive_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/archive"
	"lanewright/planner/placement"
)

// TestUndoAndRedo plays any steps beside the simplest model of them, a list and a
// place in it: nothing is lost, and what was undone comes back as it was.
func TestUndoAndRedo(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var d archive.Draft
		var list []placement.Edit
		place := 0
		at := []int{0}
		for n := range rapid.IntRange(0, 40).Draw(t, "steps") {
			s := archive.Step{Version: n + 1, Kind: rapid.SampledFrom([]archive.StepKind{archive.MakeStep, archive.MakeStep, archive.UndoStep, archive.RedoStep}).Draw(t, "kind")}
			switch s.Kind {
			case archive.MakeStep:
				e := placement.CloseLane{Lane: placement.Spot{Rack: "R", Level: 1, Lane: n + 1}}
				s.Edits = []placement.Edit{e}
				list = append(list[:place:place], e)
				place++
			case archive.UndoStep:
				place = max(0, place-1)
			case archive.RedoStep:
				place = min(len(list), place+1)
			}
			d.Steps = append(d.Steps, s)
			at = append(at, place)
			made, undone := d.Standing()
			require.Equal(t, append([]placement.Edit{}, list[:place]...), append([]placement.Edit{}, archive.EditsOf(made)...))
			require.Len(t, undone, len(list)-place)
			for i, u := range undone {
				require.Equal(t, list[len(list)-1-i], u.Edits[0])
			}
		}
		version := rapid.IntRange(0, len(d.Steps)).Draw(t, "version")
		gone, came := d.Since(version)
		then, now := d.At(version).Edits(), d.Edits()
		require.Len(t, then, at[version])
		kept := then[:len(then)-len(gone)]
		require.Equal(t, append([]placement.Edit{}, now...), append(append([]placement.Edit{}, kept...), archive.EditsOf(came)...), "what stood less what went and what came is what stands")
		if len(gone) > 0 && len(came) > 0 {
			require.NotEqual(t, gone[0].Version, came[0].Version)
		}
	})
}
