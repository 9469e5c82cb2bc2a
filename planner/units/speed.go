package units

import "time"

// Speed is a speed in whole nanometres per second.
type Speed int64

// MetrePerSecond is 1 m/s.
const MetrePerSecond Speed = Speed(Metre)

// MPS returns v in metres per second.
func (v Speed) MPS() float64 { return float64(v) / float64(MetrePerSecond) }

// Time returns how long l takes at v, rounded to the nearest nanosecond. It
// panics when v is not positive.
func (v Speed) Time(l Length) time.Duration {
	n, _ := nearest(Int(int64(l)).Mul(Int(int64(time.Second))).Div(Int(int64(v))))
	return time.Duration(n)
}

// Minutes returns d in minutes as an exact ratio.
func Minutes(d time.Duration) Ratio { return R(int64(d), int64(time.Minute)) }
