//go:build !unix

package main

import "time"

// started stands for the start of the process.
var started = time.Now()

// cpuTime is the time since the program started where the processor's is not
// known.
func cpuTime() time.Duration { return time.Since(started) }
