package api

import (
	"container/list"
	"context"
	"fmt"
	"sync"

	"golang.org/x/sync/singleflight"
)

// plansKept is how many plans, and revisions, stay in memory.
const plansKept = 4

// cache keeps the values used last of what never changes. Several callers that
// miss the same key wait for one load.
type cache[K comparable, V any] struct {
	mu     sync.Mutex
	limit  int
	order  *list.List // of entry[K, V], the one used last in front
	items  map[K]*list.Element
	flight singleflight.Group
}

type entry[K comparable, V any] struct {
	key   K
	value V
}

func newCache[K comparable, V any](limit int) *cache[K, V] {
	return &cache[K, V]{limit: limit, order: list.New(), items: map[K]*list.Element{}}
}

// get returns the value of key, loading it on a miss. The load outlives a
// caller that goes away, for others may wait for it. An error is not kept.
func (c *cache[K, V]) get(ctx context.Context, key K, load func(context.Context, K) (V, error)) (V, error) {
	if v, ok := c.find(key); ok {
		return v, nil
	}
	v, err, _ := c.flight.Do(fmt.Sprint(key), func() (any, error) {
		if v, ok := c.find(key); ok {
			return v, nil
		}
		v, err := load(context.WithoutCancel(ctx), key)
		if err == nil {
			c.put(key, v)
		}
		return v, err
	})
	return v.(V), err
}

func (c *cache[K, V]) find(key K) (v V, ok bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	e := c.items[key]
	if e == nil {
		return v, false
	}
	c.order.MoveToFront(e)
	return e.Value.(entry[K, V]).value, true
}

func (c *cache[K, V]) put(key K, value V) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.items[key] = c.order.PushFront(entry[K, V]{key, value})
	if c.order.Len() > c.limit {
		last := c.order.Remove(c.order.Back()).(entry[K, V])
		delete(c.items, last.key)
	}
}
