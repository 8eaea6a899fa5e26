package tariff

import "sync"

// maskBits is how many channel sets one pool may have. Sets beyond it are not used.
const maskBits = 256

// mask is a set of options of one pool.
type mask [maskBits / 64]uint64

func (m mask) with(n int) mask {
	m[n/64] |= 1 << (n % 64)
	return m
}

func (m mask) has(n int) bool { return m[n/64]>>(n%64)&1 == 1 }

func (m mask) or(o mask) mask {
	for i := range m {
		m[i] |= o[i]
	}
	return m
}

// in reports whether m is a subset of o.
func (m mask) in(o mask) bool {
	for i := range m {
		if m[i]&^o[i] != 0 {
			return false
		}
	}
	return true
}

// memo remembers answers by key. Answers must not depend on who asks first.
type memo[T any] struct {
	mu sync.RWMutex
	m  map[string]T
}

func (c *memo[T]) get(key []byte) (T, bool) {
	c.mu.RLock()
	defer c.mu.RUnlock()
	v, ok := c.m[string(key)]
	return v, ok
}

func (c *memo[T]) put(key []byte, v T) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.m == nil {
		c.m = map[string]T{}
	}
	c.m[string(key)] = v
}
