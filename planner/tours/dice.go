package tours

import (
	"hash/fnv"
	"math/bits"
	"math/rand/v2"
)

// dice draws random numbers; it is a stream of its own for each seed and name.
type dice struct{ pcg *rand.PCG }

func newDice(seed uint64, name string) dice {
	h := fnv.New64a()
	h.Write([]byte(name))
	return dice{rand.NewPCG(seed, h.Sum64())}
}

// n draws from 0 to below n.
func (d dice) n(n int) int {
	hi, _ := bits.Mul64(d.pcg.Uint64(), uint64(n))
	return int(hi)
}

// unit draws from 0 to below 1.
func (d dice) unit() float64 { return float64(d.pcg.Uint64()>>11) / (1 << 53) }
