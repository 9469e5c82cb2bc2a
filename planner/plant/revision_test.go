package plant

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// full is a plant in which every field of every fact can be changed.
func full() *Plant {
	p := lantern()
	p.History = []History{{Product: "LAMP", Date: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Units: units.Int(390)}}
	p.Current = []CurrentLane{{Rack: "R1", Level: 2, Lane: 1, Part: "LENS"}}
	p.Cells[0].RackTypes = []RackTypeCode{"FR"}
	p.Cells[0].NewRack = &Place{X: 1, Y: 2}
	safety := units.R(1, 10)
	p.Usage[0].Safety = &safety
	return p
}

// fuller has the sheets too that later versions added.
func fuller() *Plant {
	p := full()
	p.Turns = []Turn{{From: "M", At: "P1", To: "M"}}
	p.CurrentRoutes = []CurrentStop{{Route: "1", Order: 1, Rack: "R1"}}
	p.RouteRules = []RouteRule{{Kind: RulePin, Rack: "R1", Route: "1"}}
	p.StockOnHand = []StockBar{{Part: "tube", Length: 2 * units.Metre, Count: 3, Place: "shelf"}}
	return p
}

func TestRevisionChangesWithEveryField(t *testing.T) {
	t.Parallel()
	base := Revision(fuller())
	seen := map[string]string{base: "the plant itself", Revision(full()): "a plant without added sheets"}
	for path, change := range everyChange(fuller()) {
		p := fuller()
		change(reflect.ValueOf(p).Elem())
		r := Revision(p)
		other, known := seen[r]
		assert.False(t, known, "%s gives the revision of %s", path, other)
		seen[r] = path
	}
	assert.Greater(t, len(seen), 120, "changes tried")
}

// everyChange lists a change of every field of p but origins and columns, by
// its path.
func everyChange(p *Plant) map[string]func(reflect.Value) {
	changes := map[string]func(reflect.Value){}
	var walk func(path string, v reflect.Value, reach func(reflect.Value) reflect.Value)
	walk = func(path string, v reflect.Value, reach func(reflect.Value) reflect.Value) {
		set := func(to any) {
			changes[path] = func(root reflect.Value) {
				at := reach(root)
				at.Set(reflect.ValueOf(to).Convert(at.Type()))
			}
		}
		switch x := v.Interface().(type) {
		case finding.Origin, []Column:
			return
		case units.Ratio:
			set(x.Add(units.R(1, 7)))
			return
		case time.Time:
			set(x.Add(24 * time.Hour))
			return
		}
		switch v.Kind() {
		case reflect.String:
			set(v.String() + "x")
		case reflect.Bool:
			set(!v.Bool())
		case reflect.Int, reflect.Int64:
			set(v.Int() + 1)
		case reflect.Uint64:
			set(v.Uint() + 1)
		case reflect.Pointer:
			if !v.IsNil() {
				changes[path+" nil"] = func(root reflect.Value) { reach(root).SetZero() }
				walk(path+"*", v.Elem(), func(r reflect.Value) reflect.Value { return reach(r).Elem() })
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(path+"."+v.Type().Field(i).Name, v.Field(i), func(r reflect.Value) reflect.Value { return reach(r).Field(i) })
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(fmt.Sprintf("%s[%d]", path, i), v.Index(i), func(r reflect.Value) reflect.Value { return reach(r).Index(i) })
			}
			if v.Kind() == reflect.Slice && v.Len() > 0 {
				changes[path+" shorter"] = func(root reflect.Value) {
					at := reach(root)
					at.Set(at.Slice(0, at.Len()-1))
				}
			}
		}
	}
	walk("plant", reflect.ValueOf(p).Elem(), func(r reflect.Value) reflect.Value { return r })
	return changes
}

func TestRevisionIgnoresOrderOriginsAndColumns(t *testing.T) {
	t.Parallel()
	base := Revision(full())
	rapid.Check(t, func(t *rapid.T) {
		p := full()
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		v := reflect.ValueOf(p).Elem()
		for i := range v.NumField() {
			if f := v.Field(i); f.Kind() == reflect.Slice {
				random.Shuffle(f.Len(), reflect.Swapper(f.Interface()))
			}
		}
		p.Parts[0].Origin, p.Columns = finding.Origin{File: "other.csv"}, nil
		p.RackTypes[0].Levels[0].Origin.Row = random.Int()
		if Revision(p) != base {
			t.Fatalf("order or origin changed the revision")
		}
	})
}

func TestRevisionIgnoresTheOrderOfListedCodes(t *testing.T) {
	t.Parallel()
	a, b := full(), full()
	a.Racks[1].Stations = []StationCode{"10", "20"}
	b.Racks[1].Stations = []StationCode{"20", "10"}
	assert.Equal(t, Revision(a), Revision(b))
	b.Racks[0].FixedLanes[0].Widths[0], b.Racks[0].FixedLanes[0].Widths[1] = b.Racks[0].FixedLanes[0].Widths[1], b.Racks[0].FixedLanes[0].Widths[0]
	assert.NotEqual(t, Revision(a), Revision(b), "the order of lanes is a fact")
}

// TestRevisionKeepsItsName: the first version, which knew no service measure
// and no prices, gave these facts this name (recomputed with it).
func TestRevisionKeepsItsName(t *testing.T) {
	t.Parallel()
	p := full()
	assert.Equal(t, "ffa8181b76d1f868aadbe48dcac227c710950068ec143fb28c96bf03054b5579", Revision(p))
	p.Settings.WeeksPerYear = units.MustRatio("48.0")
	assert.Equal(t, "ffa8181b76d1f868aadbe48dcac227c710950068ec143fb28c96bf03054b5579", Revision(p))
}

func TestRevisionOfEqualRatios(t *testing.T) {
	t.Parallel()
	a, b := full(), full()
	a.Usage[0].PerUnit, b.Usage[0].PerUnit = units.R(1, 2), units.MustRatio("0.50")
	assert.Equal(t, Revision(a), Revision(b))
	require.Len(t, Revision(a), 64)
}

func BenchmarkRevision(b *testing.B) {
	p := full()
	for i := range 40_000 {
		u := p.Usage[i%3]
		u.Station = StationCode(fmt.Sprint(i))
		p.Usage = append(p.Usage, u)
	}
	for b.Loop() {
		Revision(p)
	}
}
