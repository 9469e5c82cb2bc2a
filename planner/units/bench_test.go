package units_test

import (
	"testing"

	"lanewright/planner/units"
)

// BenchmarkRatio measures single operations on fractions as plants have them
// and on some that int64 does not hold.
func BenchmarkRatio(b *testing.B) {
	pairs := map[string][2]units.Ratio{
		"small": {units.R(997, 480), units.MustRatio("0.995")},
		"long":  {units.R(1<<62-1, 1<<61-1), units.R(1<<60-93, 1<<59-55)},
	}
	for _, name := range []string{"small", "long"} {
		x, y := pairs[name][0], pairs[name][1]
		run := func(op string, do func()) {
			b.Run(name+"/"+op, func(b *testing.B) {
				b.ReportAllocs()
				for range b.N {
					do()
				}
			})
		}
		run("add", func() { x.Add(y) })
		run("mul", func() { x.Mul(y) })
		run("div", func() { x.Div(y) })
		run("cmp", func() { x.Cmp(y) })
		run("ceil", func() { x.Ceil() })
		run("float64", func() { x.Float64() })
		run("string", func() { _ = x.String() })
	}
	b.Run("int", func(b *testing.B) {
		b.ReportAllocs()
		for i := range b.N {
			units.Int(int64(i))
		}
	})
	b.Run("parse", func(b *testing.B) {
		b.ReportAllocs()
		for range b.N {
			_, _ = units.ParseRatio("0.995")
		}
	})
}
