package ergonomics

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func TestJudge(t *testing.T) {
	t.Parallel()
	base := Task{
		Container: plant.Container{Length: 600 * units.Millimetre, Width: 400 * units.Millimetre, Height: 280 * units.Millimetre, Handles: plant.GoodHandles},
		Side:      plant.LengthAlong, TwoHands: true,
		PickSurface: 700 * units.Millimetre, LoadSurface: 800 * units.Millimetre,
		Round: 20 * time.Minute, Interval: time.Hour, PerRound: 10, Rate: 0.1,
	}
	cases := []struct {
		name         string
		gross, piece float64
		load         units.Length
		want         map[string]string
	}{
		{"light", 5, 0.5, base.LoadSurface, map[string]string{}},
		{"a heavy container", 16, 0.5, base.LoadSurface, map[string]string{CodeRefill: "note"}},
		{"a heavy container up high", 16, 0.5, 1500 * units.Millimetre, map[string]string{CodeRefill: "warning"}},
		{"a heavy container out of reach", 16, 0.5, 1700 * units.Millimetre, map[string]string{CodeRefill: "error"}},
		{"a heavy piece", 5, 12, base.LoadSurface, map[string]string{CodePick: "note"}},
		{"under 3 kg nothing is lifted", 2.9, 2.9, 2 * units.Metre, map[string]string{}},
	}
	for _, c := range cases {
		task := base
		task.Gross, task.Piece = units.Mass(c.gross*float64(units.Kilogram)), units.Mass(c.piece*float64(units.Kilogram))
		task.LoadSurface = c.load
		got := map[string]string{}
		for _, f := range Judge(task, DefaultSettings()) {
			got[f.Code] = string(f.Severity)
			assert.NotEmpty(t, f.Remedy)
			assert.Contains(t, f.Detail, "a qualified person decides")
		}
		assert.Equal(t, c.want, got, c.name)
	}
}
