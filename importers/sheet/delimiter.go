package sheet

import (
	"path/filepath"
	"strings"
)

// delimiters are the candidates, the first winning where several are equally
// constant: 1,5;2,5 has as constant a number of commas, but they are decimal.
const delimiters = "\t;|,"

// sampleRecords is how many records decide about the delimiter.
const sampleRecords = 1000

// sampleFields is how many fields a record of the sample may have.
const sampleFields = 16_384

// delimiterOf returns the delimiter under which the most records have one and
// the same number of fields. A text in which no candidate makes two fields has one
// column.
func delimiterOf(base string, text string) byte {
	if ext := strings.ToLower(filepath.Ext(base)); ext == ".tsv" || ext == ".tab" {
		return '\t'
	}
	best, bestShare := byte(','), 0.0
	for _, mark := range []byte(delimiters) {
		if share := constancy(text, mark); share > bestShare {
			best, bestShare = mark, share
		}
	}
	return best
}

// constancy returns the share of records that have the most frequent number
// of fields above one. Blank records do not count.
func constancy(text string, mark byte) float64 {
	counts := map[int]int{}
	total := 0
	r := records{text: text, mark: mark, width: sampleFields}
	for total < sampleRecords && r.next() {
		if len(r.fields) == 1 && r.fields[0] == "" {
			continue
		}
		total++
		counts[len(r.fields)]++
	}
	if r.open || r.wide || total == 0 {
		return 0
	}
	most := 0
	for n, times := range counts {
		if n > 1 {
			most = max(most, times)
		}
	}
	return float64(most) / float64(total)
}
