package archive

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestName is how many characters a plant's name may have.
const longestName = 100

// ErrBadName says that a plant can not be called so.
var ErrBadName = errors.New("a plant's name has at most 100 characters, no slash, nothing invisible and no space around it")

// CheckName answers with ErrBadName for a plant's name that a person could not
// read and type again or an address could not carry.
func CheckName(name string) error {
	odd := func(r rune) bool { return !unicode.IsPrint(r) || r == '/' || r == '\\' || r == utf8.RuneError }
	if name == "" || name == "." || name == ".." || utf8.RuneCountInString(name) > longestName ||
		strings.TrimSpace(name) != name || strings.ContainsFunc(name, odd) {
		return ErrBadName
	}
	return nil
}
