package tours

import (
	"fmt"
	"os"
	"strings"
)

func tune(t *tuning) {
	for _, kv := range strings.Split(os.Getenv("TUNE"), ",") {
		k, v, _ := strings.Cut(kv, "=")
		var x float64
		fmt.Sscan(v, &x)
		switch k {
		case "mean":
			t.mean = x
		case "longest":
			t.longest = x
		case "gap":
			t.gap = x
		case "blinks":
			t.blinks = x
		case "hot":
			t.hot = x
		case "cold":
			t.cold = x
		case "width":
			t.width = int(x)
		}
	}
}
