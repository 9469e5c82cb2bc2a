package storage_test

import (
	"fmt"
	"math"
	"reflect"
	"sort"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/units"
)

// filler gives every field of a value a value of its own that is not zero, so
// that a column that was forgotten, or exchanged with another, shows.
type filler struct{ n int64 }

func (f *filler) next() int64 { f.n++; return f.n }

func (f *filler) fill(v reflect.Value) {
	switch p := v.Addr().Interface().(type) {
	case *units.Ratio:
		*p = units.R(f.next(), 999_983)
		return
	case *time.Time:
		*p = time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(f.next()))
		return
	}
	if v.Type() == reflect.TypeFor[placement.Edit]() {
		// Of all edits a move has the most fields.
		e := new(placement.MoveLoop)
		f.fill(reflect.ValueOf(e).Elem())
		v.Set(reflect.ValueOf(*e))
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprintf("%s %d é", v.Type().Name(), f.next()))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(f.next())
	case reflect.Uint64:
		v.SetUint(math.MaxUint64 - uint64(f.next()))
	case reflect.Float64:
		v.SetFloat(1 / float64(f.next()))
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		f.each(v)
	case reflect.Array:
		f.each(v)
	case reflect.Struct:
		for i := range v.NumField() {
			f.fill(v.Field(i))
		}
	default:
		panic("filler: " + v.Type().String())
	}
}

func (f *filler) each(v reflect.Value) {
	for i := range v.Len() {
		f.fill(v.Index(i))
	}
}

func filled[T any](seed int64) *T {
	v := new(T)
	(&filler{n: seed}).fill(reflect.ValueOf(v).Elem())
	return v
}

// filledPlant returns facts in which no field is zero.
func filledPlant() *plant.Plant {
	p := filled[plant.Plant](1000)
	for i := range p.Shifts {
		p.Shifts[i].Days[i] = false
	}
	return p
}

// filledPlan returns a plan of facts with the given hash in which no field is
// zero. Settings have values that planner.Settings.Set takes.
func filledPlan(hash string) *planner.Plan {
	p := filled[planner.Plan](5000)
	p.Revision = hash
	s := &p.Settings.Plant
	s.LengthUnit, s.MassUnit, s.TimeZone = "in", "lb", "Europe/Vienna"
	s.Measure, s.History = plant.ServiceFillRate, plant.HistoryAll
	p.Settings.Simulation = validPlay()
	p.Proof = filledResult(7000)
	// One type twice, as a plan has it, and the other once.
	p.Racks = append(p.Racks, p.Racks[0])
	return p
}

// validPlay returns settings of a play that planner.Settings.Set takes, none of
// them a default.
func validPlay() simulation.Settings {
	return simulation.Settings{
		Weeks: 20, WarmUp: 2, Replications: 7, Use: simulation.UseLevelled,
		From: time.Date(2026, 10, 19, 0, 0, 0, 0, time.UTC),
	}
}

// filledResult returns a play in which no field is zero.
func filledResult(seed int64) *simulation.Result {
	r := filled[simulation.Result](seed)
	r.Settings = validPlay()
	return r
}

// dump writes every field of v on a line of its own. Numbers that are equal
// look alike, and so do nil and empty lists.
func dump(v any) string {
	var lines []string
	var walk func(path string, v reflect.Value)
	walk = func(path string, v reflect.Value) {
		switch x := v.Interface().(type) {
		case units.Ratio:
			lines = append(lines, path+" = "+x.String())
			return
		case time.Time:
			lines = append(lines, path+" = "+x.UTC().Format(time.RFC3339Nano))
			return
		}
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(path, v.Elem())
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(path+"."+v.Type().Field(i).Name, v.Field(i))
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(fmt.Sprintf("%s[%d]", path, i), v.Index(i))
			}
		default:
			lines = append(lines, fmt.Sprintf("%s = %#v", path, v.Interface()))
		}
	}
	walk("", reflect.ValueOf(v))
	return strings.Join(lines, "\n")
}

// checkSame requires that want and got say the same, showing only where they
// differ.
func checkSame(t testing.TB, want, got any) {
	t.Helper()
	a, b := strings.Split(dump(want), "\n"), strings.Split(dump(got), "\n")
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			require.Equal(t, a[i:min(i+3, len(a))], b[i:min(i+3, len(b))], "line %d of %d and %d", i, len(a), len(b))
			t.Fatal("one has more lines than the other")
		}
	}
}

func TestFillerLeavesNothingZero(t *testing.T) {
	t.Parallel()
	for name, v := range map[string]any{"plant": filled[plant.Plant](1), "plan": filledPlan("h"), "finding": filled[finding.Finding](1)} {
		var zero []string
		for line := range strings.SplitSeq(dump(v), "\n") {
			if strings.HasSuffix(line, " = 0") || strings.HasSuffix(line, ` = ""`) || strings.HasSuffix(line, " = false") {
				zero = append(zero, line)
			}
		}
		sort.Strings(zero)
		require.Empty(t, zero, name)
	}
}
