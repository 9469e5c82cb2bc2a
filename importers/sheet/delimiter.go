package sheet

import (
	"path/filepath"
	"strings"
)

// delimiters are the candidates, the first winning where all else is equal.
const delimiters = ";,\t|"

// sampleRecords is how many records decide about the delimiter.
const sampleRecords = 1000

// delimiterOf returns the delimiter under which the most records have one and
// the same number of fields; among equals the one with more fields. A text in
// which no candidate makes two fields has one column.
func delimiterOf(base string, text string) byte {
	if ext := strings.ToLower(filepath.Ext(base)); ext == ".tsv" || ext == ".tab" {
		return '\t'
	}
	best, bestShare, bestFields := byte(','), 0.0, 1
	for _, mark := range []byte(delimiters) {
		share, fields := constancy(text, mark)
		if share > bestShare || share == bestShare && fields > bestFields {
			best, bestShare, bestFields = mark, share, fields
		}
	}
	return best
}

// constancy returns the share of records that have the most frequent number
// of fields above one, and that number. Blank records do not count.
func constancy(text string, mark byte) (share float64, fields int) {
	counts := map[int]int{}
	total := 0
	r := records{text: text, mark: mark}
	for total < sampleRecords && r.next() {
		if len(r.fields) == 1 && r.fields[0] == "" {
			continue
		}
		total++
		counts[len(r.fields)]++
	}
	if r.open || total == 0 {
		return 0, 1
	}
	most := 0
	for n, times := range counts {
		if n > 1 && (times > most || times == most && n > fields) {
			most, fields = times, n
		}
	}
	return float64(most) / float64(total), fields
}
