package drawing

import (
	"math"
	"strings"
)

// tag is what stands on one label or card: an address in large signs, lines of text,
// and its code as a QR code and, where it has room, as Code 128.
type tag struct {
	// big are the wordings of the address, each as lines; the one whose smallest
	// signs come out largest is taken.
	big   [][]string
	lines []tagLine
	code  string
	// far says that the address is to be read from readFrom.
	far bool
}

// tagLine is a text of a tag. What is needed stays whole at any size; other texts
// may be shortened, and left out, where there is no room.
type tagLine struct {
	text         string
	size         float64
	bold, needed bool
}

// flaws are what a tag is short of.
type flaws struct {
	// signs is how high the smallest capital of the address is, in mm, where it is to
	// be read from readFrom and is lower than that takes; else 0.
	signs float64
	// bars: no Code 128; square: no QR code; cut: a text is shortened or left out;
	// lost: a needed one is.
	bars, square, cut, lost bool
}

// Signs are to be as high as a 200th of the distance they are read from, so 10 mm for
// 2 m: common practice for signs (ISO 3864-1 has a like rule for safety signs; from
// memory).
const (
	readFrom  = 2000.0
	signShare = 200.0
	readHigh  = readFrom / signShare
	// capHigh is how high capitals of both fonts are, and figures at least, in sizes.
	capHigh = 0.722
)

// Room on a tag, in mm: between what stands beside and below each other, and from
// one line of text to the next, in sizes.
const (
	tagGap   = 1.2
	lineStep = 1.2
	mostBig  = 60.0
)

// draw puts a tag into a box.
func (t tag) draw(b *board, in box) flaws {
	f := flaws{bars: true, square: true}
	rest := in
	if s, ok := barCode(t.code); ok && in.width() >= leastBar*float64(s.wide()) {
		strip := in
		strip.top = strip.bottom - min(max(in.height()*0.15, leastBarHigh), 14)
		strip.right = strip.left + min(strip.width(), mostBar*float64(s.wide()))
		b.symbol(s, strip)
		rest.bottom = strip.top - tagGap/2
		f.bars = false
	}
	wish, least := stackHigh(t.lines, rest.width(), 1), stackHigh(t.lines, rest.width(), 0)
	high := min(bigHigh(t.big[min(1, len(t.big)-1)]), rest.height()-least-tagGap)
	high = max(high, rest.height()-wish-tagGap)
	square, ok := squareCode(t.code)
	side := 0.0
	if ok {
		side = leastModule * float64(square.wide())
		high = max(high, min(side, rest.height()-least-tagGap))
	}
	head := rest
	head.bottom = head.top + high
	side = max(side, min(0.4*in.height(), 0.3*in.width(), high))
	if ok && side <= min(high, in.width()/2)+1e-9 {
		at := box{head.right - side, head.top, head.right, head.top + side}
		b.symbol(square, at)
		head.right = at.left - tagGap
		f.square = false
	}
	texts := biggest(t.big, head)
	stack := rest
	stack.top = head.top
	if !f.square {
		stack.top = b.taken[len(b.taken)-1].bottom
	}
	for _, t := range texts {
		b.taken = append(b.taken, t.ink())
		b.Text(t)
		stack.top = max(stack.top, t.ink().bottom)
	}
	stack.top += tagGap
	if signs := smallest(texts) * capHigh; t.far && signs < readHigh-0.05 {
		f.signs = signs
	}
	f.cut, f.lost = b.stack(t.lines, stack)
	return f
}

// symbol draws a symbol and keeps texts out of its quiet zone.
func (b *board) symbol(s symbol, in box) {
	s.draw(b.Paper, in)
	b.taken = append(b.taken, in)
}

// bigHigh is what an address needs to be read from 2 m.
func bigHigh(lines []string) float64 {
	high := tagGap * float64(len(lines)-1)
	for _, s := range lines {
		up, down := reach(s)
		high += (up + down) * readHigh / capHigh
	}
	return high
}

// reach is how far a text goes over and under its base line, in sizes: less where it
// is all capitals, figures and signs that stand between them.
func reach(s string) (up, down float64) {
	for _, r := range s {
		if !(r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' && r != 'Q' || r == '-' || r == '.' || r == '/' || r == '+' || r == ' ') {
			return ascent, descent
		}
	}
	return 0.745, 0.02
}

// ink is the room that t takes where it is no higher than it looks.
func (t Text) ink() box {
	up, down := reach(t.Text)
	return box{t.At.X, t.At.Y - up*t.Size, t.At.X + t.width(), t.At.Y + down*t.Size}
}

// biggest is the wording with the fewest lines that can be read from readFrom, else
// the one whose smallest signs come out largest; more lines are to be worth it.
func biggest(wordings [][]string, in box) []Text {
	const worth = 1.15
	read := func(texts []Text) bool { return smallest(texts)*capHigh >= readHigh-0.05 }
	var best []Text
	for _, lines := range wordings {
		texts := bigTexts(lines, in)
		switch {
		case texts == nil:
		case best == nil, read(texts) && (!read(best) || len(texts) < len(best)):
			best = texts
		case !read(best) && smallest(texts) > smallest(best)*worth:
			best = texts
		}
	}
	return best
}

// smallest is the least size of texts, 0 of none.
func smallest(texts []Text) float64 {
	if len(texts) == 0 {
		return 0
	}
	least := math.Inf(1)
	for _, t := range texts {
		least = min(least, t.Size)
	}
	return least
}

// bigTexts sets lines one below the other, each as large as its width allows and
// together as high as the box; nil where that is less than can be read at all.
func bigTexts(lines []string, in box) []Text {
	var texts []Text
	for _, s := range lines {
		for _, part := range wrap(s, leastSize, in.width(), true) {
			texts = append(texts, Text{Bold: true, Text: part})
		}
	}
	room := in.height() - tagGap*float64(len(texts)-1)
	for i := range texts {
		texts[i].Size = 1
		texts[i].Size = min(mostBig, 0.999*in.width()/texts[i].width())
	}
	share := shareOut(texts, room)
	if last := &texts[len(texts)-1]; len(texts) > 1 && min(last.Size, share)*capHigh < readHigh {
		// The last line, which names the lane in its rack, comes first.
		last.Size = min(last.Size, readHigh/capHigh)
		up, down := reach(last.Text)
		share = shareOut(texts[:len(texts)-1], room-(up+down)*last.Size)
		last.Size = min(last.Size, room/(up+down))
	} else {
		last.Size = min(last.Size, share)
	}
	y := in.top
	for i := range texts {
		t := &texts[i]
		if i < len(texts)-1 {
			t.Size = min(t.Size, share)
		}
		if t.Size < leastSize {
			return nil
		}
		up, down := reach(t.Text)
		t.At = Point{in.left, y + up*t.Size}
		y += (up+down)*t.Size + tagGap
	}
	return texts
}

// shareOut is the size that lines may have at most so that together they are as high
// as the room; what one limited by its width leaves, the others take.
func shareOut(texts []Text, room float64) float64 {
	low, high := 0.0, mostBig
	for range 40 {
		middle, sum := (low+high)/2, 0.0
		for _, t := range texts {
			up, down := reach(t.Text)
			sum += (up + down) * min(t.Size, middle)
		}
		if sum <= room {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// stackHigh is what lines take at a share of the way from the least size to the one
// they wish for.
func stackHigh(lines []tagLine, width, share float64) float64 {
	high := 0.0
	for _, l := range lines {
		high += lineStep * l.at(share) * float64(len(l.wrapped(width, share)))
	}
	return high
}

// at is the size of a line at a share of the way from the least size.
func (l tagLine) at(share float64) float64 {
	return leastSize + max(0, l.size-leastSize)*share
}

func (l tagLine) wrapped(width, share float64) []string {
	if l.text == "" {
		return nil
	}
	return wrap(l.text, l.at(share), width, l.bold)
}

// stack writes lines one below the other as large as they have room. Where the least
// size is too much, texts that are not needed become one line, then the last of them
// go. cut reports whether any of that was so, lost whether a needed text has no room.
func (b *board) stack(lines []tagLine, in box) (cut, lost bool) {
	share := 1.0
	for share > 0 && stackHigh(lines, in.width(), share) > in.height() {
		share = max(0, share-0.05)
	}
	texts := make([][]string, len(lines))
	high := 0.0
	for i, l := range lines {
		texts[i] = l.wrapped(in.width(), share)
		high += lineStep * l.at(share) * float64(len(texts[i]))
	}
	shorten := func(to int) {
		for i := len(lines) - 1; i >= 0 && high > in.height()+1e-9; i-- {
			if n := len(texts[i]); !lines[i].needed && n > to {
				high -= lineStep * lines[i].at(share) * float64(n-to)
				cut = true
				texts[i] = texts[i][:to]
				if to > 0 {
					one := fitted(Text{Size: leastSize, Bold: lines[i].bold, Text: lines[i].text}, in.width())
					texts[i] = []string{one.Text}
				}
			}
		}
	}
	shorten(1)
	shorten(0)
	y := in.top
	for i, l := range lines {
		size := l.at(share)
		for _, s := range texts[i] {
			y += lineStep * size
			t := Text{At: Point{in.left, y - (lineStep-ascent-0.02)*size}, Size: size, Bold: l.bold, Text: s}
			if !b.write(t) {
				cut, lost = true, lost || l.needed
			}
		}
	}
	return cut, lost
}

// inLines is a code in one line, and in two where it has a place to break.
func inLines(code string) [][]string {
	list := [][]string{{code}}
	middle, at := len(code)/2, -1
	for i, r := range code {
		if i > 0 && i < len(code)-1 && strings.ContainsRune("-_./ ", r) && (at < 0 || abs(i-middle) < abs(at-middle)) {
			at = i
		}
	}
	if at > 0 {
		list = append(list, []string{code[:at+1], code[at+1:]})
	}
	return list
}

func abs(n int) int { return max(n, -n) }
