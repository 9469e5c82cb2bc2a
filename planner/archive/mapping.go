package archive

import "time"

// Mapping says what the columns of a plant's own sheets mean, for files of one
// shape.
type Mapping struct {
	// Shape names the headings of the files that it is about.
	Shape string
	// Text is what a person may read and edit.
	Text    string
	Created time.Time
}
