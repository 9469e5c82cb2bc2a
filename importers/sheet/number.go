package sheet

import (
	"bytes"
	"math"
	"strconv"
)

// Bounds of numbers that are written out digit by digit.
const (
	// spreadsheetDigits is how many significant digits spreadsheets keep; a
	// stored value with more carries the noise of binary fractions.
	spreadsheetDigits = 15
	// longestInteger bounds whole numbers kept digit by digit, as written by
	// programs that store long codes as numbers.
	longestInteger = 40
	// plainExponent bounds numbers written without an exponent.
	plainExponent = 30
)

// appendDecimal appends the shortest decimal of a stored number to dst, and
// whether it is a number at all. 702.42999999999995 is 702.43, 1E5 is 100000.
func appendDecimal(dst, v []byte) ([]byte, bool) {
	v = bytes.Trim(v, " \t\r\n")
	whole, shortest := simpleDecimal(v)
	if shortest {
		return append(dst, v...), true
	}
	if whole {
		return appendInteger(dst, v), true
	}
	if !looksNumeric(v) {
		return dst, false
	}
	f, err := strconv.ParseFloat(string(v), 64)
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		return dst, false
	}
	return appendFloat(dst, f), true
}

// simpleDecimal reports whether v is an integer of reasonable length, and
// whether v is already the shortest way to write itself.
func simpleDecimal(v []byte) (whole, shortest bool) {
	digits := bytes.TrimPrefix(v, []byte("-"))
	point := -1
	for i, c := range digits {
		switch {
		case c == '.' && point < 0:
			point = i
		case c < '0' || c > '9':
			return false, false
		}
	}
	if point < 0 {
		whole = len(digits) > 0 && len(digits) <= longestInteger
		shortest = whole && (digits[0] != '0' || len(v) == 1)
		return whole, shortest
	}
	shortest = point > 0 && len(digits) <= spreadsheetDigits && digits[len(digits)-1] != '.' &&
		digits[len(digits)-1] != '0' && (digits[0] != '0' || point == 1)
	return false, shortest
}

// appendInteger appends an integer without leading zeros.
func appendInteger(dst, v []byte) []byte {
	digits, negative := bytes.CutPrefix(v, []byte("-"))
	digits = bytes.TrimLeft(digits, "0")
	if len(digits) == 0 {
		return append(dst, '0')
	}
	if negative {
		dst = append(dst, '-')
	}
	return append(dst, digits...)
}

// looksNumeric keeps out what strconv reads beyond decimal numbers.
func looksNumeric(v []byte) bool {
	for _, c := range v {
		if (c < '0' || c > '9') && bytes.IndexByte([]byte("+-.eE"), c) < 0 {
			return false
		}
	}
	return len(v) > 0
}

// appendFloat appends f to fifteen significant digits.
func appendFloat(dst []byte, f float64) []byte {
	if f == 0 {
		return append(dst, '0')
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(f, 'e', spreadsheetDigits-1, 64), 64)
	if err == nil && !math.IsInf(rounded, 0) {
		f = rounded
	}
	if e := math.Abs(math.Log10(math.Abs(f))); e > plainExponent {
		return strconv.AppendFloat(dst, f, 'E', -1, 64)
	}
	return strconv.AppendFloat(dst, f, 'f', -1, 64)
}
