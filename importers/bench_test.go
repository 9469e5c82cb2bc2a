package importers

import (
	"strconv"
	"testing"
)

func BenchmarkSmallPlant(b *testing.B) {
	data := loadWorkbook(b, "lantern").zip(b)
	for b.Loop() {
		readBytes(b, "plant.zip", data)
	}
}

// BenchmarkScalePlant reads 10,000 parts with 40,000 rows of use.
func BenchmarkScalePlant(b *testing.B) {
	w := loadWorkbook(b, "lantern")
	for i := range 10_000 {
		part := "P" + strconv.Itoa(i)
		w.add("Parts", part, "", "0.1", "BOX", "20")
		for j := range 4 {
			w.add("Usage", "", part, "C"+strconv.Itoa(1+j%2), strconv.Itoa(10*(1+j/2)), "", "", strconv.Itoa(10+j))
		}
	}
	data := w.zip(b)
	for b.Loop() {
		readBytes(b, "plant.zip", data)
	}
}
