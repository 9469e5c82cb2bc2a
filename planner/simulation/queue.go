package simulation

// queue holds what leaves in the order in which it came.
type queue[T any] struct {
	list []T
	head int
}

func (q *queue[T]) len() int { return len(q.list) - q.head }

func (q *queue[T]) at(i int) *T { return &q.list[q.head+i] }

// first returns the one that leaves next, nil where there is none.
func (q *queue[T]) first() *T {
	if q.len() == 0 {
		return nil
	}
	return q.at(0)
}

// last returns the one that came last, nil where there is none.
func (q *queue[T]) last() *T {
	if q.len() == 0 {
		return nil
	}
	return &q.list[len(q.list)-1]
}

// push adds one at the end. Room that was left at the front is used again once it
// is more than half.
func (q *queue[T]) push(v T) {
	if len(q.list) == cap(q.list) && q.head > q.len() {
		q.list = q.list[:copy(q.list, q.list[q.head:])]
		q.head = 0
	}
	q.list = append(q.list, v)
}

func (q *queue[T]) pop() T {
	v := q.list[q.head]
	if q.head++; q.head == len(q.list) {
		q.list, q.head = q.list[:0], 0
	}
	return v
}
