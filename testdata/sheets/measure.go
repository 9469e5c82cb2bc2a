//go:build unix

package sheets

import (
	"runtime"
	"runtime/metrics"
	"syscall"
	"time"
)

// Measured returns the CPU time of the process that work takes, and the most
// heap in use meanwhile.
func Measured(work func()) (cpu time.Duration, peak uint64) {
	runtime.GC()
	stop, done := make(chan bool), make(chan uint64)
	go func() {
		var most uint64
		ticks := time.NewTicker(5 * time.Millisecond)
		defer ticks.Stop()
		for {
			select {
			case <-stop:
				done <- most
				return
			case <-ticks.C:
				sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
				metrics.Read(sample)
				most = max(most, sample[0].Value.Uint64())
			}
		}
	}()
	before := processTime()
	work()
	cpu = processTime() - before
	stop <- true
	return cpu, <-done
}

// processTime is the CPU time that the process has used, by all its threads.
func processTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
