package sheet

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
)

// appendShown appends what a cell with this format shows for a number given
// as its shortest decimal; ok is false where that is the number itself.
func (f *numberFormat) appendShown(dst, raw []byte) (shown []byte, ok bool) {
	if bytes.IndexByte(raw, 'E') >= 0 {
		return dst, false
	}
	switch f.kind {
	case formatPercent:
		return append(shiftPoint(dst, raw), '%'), true
	case formatScientific:
		return f.appendScientific(dst, raw)
	case formatDigits:
		return f.appendDigits(dst, raw)
	}
	return dst, false
}

// shiftPoint appends raw times 100.
func shiftPoint(dst, raw []byte) []byte {
	digits, negative := bytes.CutPrefix(raw, []byte("-"))
	whole, decimals, _ := bytes.Cut(digits, []byte("."))
	shifted := append(append(append([]byte{}, whole...), decimals...), "00"[:2-min(2, len(decimals))]...)
	cut := len(shifted) - max(len(decimals)-2, 0)
	head := bytes.TrimLeft(shifted[:cut], "0")
	if negative {
		dst = append(dst, '-')
	}
	if len(head) == 0 {
		dst = append(dst, '0')
	}
	dst = append(dst, head...)
	if cut < len(shifted) {
		dst = append(append(dst, '.'), shifted[cut:]...)
	}
	return dst
}

// appendScientific shows a number with an exponent, unless digits would be
// lost.
func (f *numberFormat) appendScientific(dst, raw []byte) ([]byte, bool) {
	value, err := strconv.ParseFloat(string(raw), 64)
	if err != nil {
		return dst, false
	}
	text := strconv.FormatFloat(value, 'E', f.decimals, 64)
	if back, err := strconv.ParseFloat(text, 64); err != nil || back != value {
		return dst, false
	}
	mantissa, exponent, _ := strings.Cut(text, "E")
	digits := strings.TrimLeft(exponent[1:], "0")
	dst = append(append(dst, mantissa...), 'E', exponent[0])
	for n := len(digits); n < f.exponent; n++ {
		dst = append(dst, '0')
	}
	return append(dst, digits...), true
}

// appendDigits pads a number and puts the literal text around it.
func (f *numberFormat) appendDigits(dst, raw []byte) ([]byte, bool) {
	digits, negative := bytes.CutPrefix(raw, []byte("-"))
	whole, decimals, hasDecimals := bytes.Cut(digits, []byte("."))
	if f.inline && hasDecimals {
		return dst, false
	}
	if negative {
		dst = append(dst, '-')
	}
	dst = append(dst, strings.TrimLeft(f.prefix, " ")...)
	if f.inline {
		dst = f.appendPattern(dst, whole)
	} else {
		for n := len(whole); n < f.zeros; n++ {
			dst = append(dst, '0')
		}
		dst = append(dst, whole...)
	}
	if hasDecimals || f.decimals > 0 {
		dst = append(append(dst, '.'), decimals...)
	}
	for n := len(decimals); n < f.decimals; n++ {
		dst = append(dst, '0')
	}
	return append(dst, strings.TrimRight(f.suffix, " ")...), true
}

// appendPattern spreads digits over a pattern with text between them, from
// the right; digits beyond the pattern go before it.
func (f *numberFormat) appendPattern(dst, digits []byte) []byte {
	pieces := make([]string, 0, len(f.pattern))
	left := len(digits)
	for _, piece := range slices.Backward(f.pattern) {
		switch {
		case piece.digit == 0:
			pieces = append(pieces, piece.text)
		case left > 0:
			left--
			pieces = append(pieces, string(digits[left]))
		case piece.digit == '0':
			pieces = append(pieces, "0")
		}
	}
	dst = append(dst, digits[:left]...)
	for _, piece := range slices.Backward(pieces) {
		dst = append(dst, piece...)
	}
	return dst
}
