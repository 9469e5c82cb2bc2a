package ergonomics

import "time"

// frequencies are the rows of Table 5.
var frequencies = [...]float64{0.2, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}

// frequencyTable is Table 5 of the Applications Manual (p. 15): by duration
// class, V below 75 cm or 30 in, then V from there on, a value for each of
// frequencies.
var frequencyTable = [3][2][17]float64{
	Short: {
		{1, .97, .94, .91, .88, .84, .80, .75, .70, .60, .52, .45, .41, .37, 0, 0, 0},
		{1, .97, .94, .91, .88, .84, .80, .75, .70, .60, .52, .45, .41, .37, .34, .31, .28},
	},
	Moderate: {
		{.95, .92, .88, .84, .79, .72, .60, .50, .42, .35, .30, .26, 0, 0, 0, 0, 0},
		{.95, .92, .88, .84, .79, .72, .60, .50, .42, .35, .30, .26, .23, .21, 0, 0, 0},
	},
	Long: {
		{.85, .81, .75, .65, .55, .45, .35, .27, .22, .18, 0, 0, 0, 0, 0, 0, 0},
		{.85, .81, .75, .65, .55, .45, .35, .27, .22, .18, .15, .13, 0, 0, 0, 0, 0},
	},
}

// frequency is FM for perMinute lifts a minute with the hands at v at the
// origin: Table 5, linear between its rows (p. 7), 0 above its last nonzero
// row.
func (c *constants) frequency(perMinute float64, d Duration, v float64) float64 {
	column := &frequencyTable[d][0]
	if v >= c.knuckle {
		column = &frequencyTable[d][1]
	}
	if perMinute <= frequencies[0] {
		return column[0]
	}
	for i := 1; i < len(frequencies); i++ {
		lo, hi := frequencies[i-1], frequencies[i]
		if perMinute > hi {
			continue
		}
		if column[i] == 0 && perMinute > lo {
			return 0
		}
		return column[i-1] + (column[i]-column[i-1])*(perMinute-lo)/(hi-lo)
	}
	return 0
}

// sample is the time over which lifts a minute are averaged (p. 16).
const sample = 15 * time.Minute

// fastest is the rate in lifts a minute up to which averaging over pauses is
// allowed (p. 16).
const fastest = 15.0

// Averaged returns the lifts a minute of a spell of lifting at rate lifts a
// minute and a pause, again and again: the special procedure for work with
// pauses within 15 min counts the lifts of 15 min and divides by 15 (p. 16).
// The pauses then do not count as recovery when the duration is classed. Above
// 15 lifts a minute the procedure does not apply and rate itself is returned.
func Averaged(rate float64, lifting, pause time.Duration) float64 {
	if lifting >= sample || pause <= 0 || lifting <= 0 || rate > fastest {
		return rate
	}
	cycle := lifting + pause
	busy := sample/cycle*lifting + min(lifting, sample%cycle)
	return rate * busy.Minutes() / sample.Minutes()
}

// perMinute is the lifts a minute of so many in a spell of work, over 15 min at
// least.
func perMinute(lifts float64, spell time.Duration) float64 {
	return lifts / max(spell, sample).Minutes()
}
