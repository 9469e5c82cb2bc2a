package ergonomics

import "time"

// Duration is a class of lifting duration of the equation.
type Duration int

// Duration classes (Applications Manual, pp. 13-14).
const (
	// Short: up to 1 h of lifting followed by at least as much recovery.
	Short Duration = iota
	// Moderate: up to 2 h followed by at least 0.3 times as much.
	Moderate
	// Long: up to 8 h.
	Long
)

// Session is a stretch of lifting and the recovery, light work or rest, that
// follows it. Pauses within 15 minutes belong to the lifting (see Averaged).
type Session struct{ Lifting, Recovery time.Duration }

// DurationOf returns the class of sessions that follow each other. Those that
// recovery too short for the class lies between are added together (pp. 13-14).
func DurationOf(sessions ...Session) Duration {
	switch {
	case fits(sessions, time.Hour, 10):
		return Short
	case fits(sessions, 2*time.Hour, 3):
		return Moderate
	default:
		return Long
	}
}

// fits reports whether no stretch of lifting without enough recovery is longer
// than most; enough is so many tenths of the lifting before.
func fits(sessions []Session, most time.Duration, tenths int64) bool {
	lifted := time.Duration(0)
	for _, s := range sessions {
		lifted += s.Lifting
		if lifted > most {
			return false
		}
		if 10*int64(s.Recovery) >= tenths*int64(lifted) {
			lifted = 0
		}
	}
	return lifted == 0
}
