package web

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
)

// catalogue holds the texts of one language by their keys.
type catalogue map[string]forms

// forms are the forms of a text by plural category (one, few, many, other); a
// text without a number has the form "other" alone.
type forms map[string]string

// UnmarshalJSON reads a string or an object of forms.
func (f *forms) UnmarshalJSON(b []byte) error {
	if len(b) > 0 && b[0] == '"' {
		var s string
		err := json.Unmarshal(b, &s)
		*f = forms{"other": s}
		return err
	}
	var m map[string]string
	err := json.Unmarshal(b, &m)
	*f = m
	return err
}

var (
	comment  = regexp.MustCompile(`(?m)^\s*//.*$`)
	trailing = regexp.MustCompile(`,(\s*})`)
)

// english is the catalogue of the texts that the template holds.
func english() catalogue {
	c, err := language("en")
	if err != nil {
		panic(err)
	}
	return c
}

// language reads assets/words/<code>.js. The module is an object as JSON knows
// it, with lines of comment and a comma after the last text allowed.
func language(code string) (catalogue, error) {
	file := "assets/words/" + code + ".js"
	body, err := files.ReadFile(file)
	if err != nil {
		return nil, err
	}
	text := comment.ReplaceAllString(string(body), "")
	text = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(text), "export default"), ";")
	var c catalogue
	if err := json.Unmarshal([]byte(trailing.ReplaceAllString(text, "$1")), &c); err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return c, nil
}

// text is the text of a key; a key without a text breaks the start.
func (c catalogue) text(key string) (string, error) {
	f, ok := c[key]
	if !ok {
		return "", fmt.Errorf("the catalogue has no text %q", key)
	}
	return f["other"], nil
}
