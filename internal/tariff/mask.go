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

// memo remembers answers by key. Answers must not depend on who asks first. It is kept in shards, so
// that goroutines seldom wait for each other.
type memo[T any] struct {
	shards [64]shard[T]
}

type shard[T any] struct {
	mu sync.RWMutex
	m  map[string]T
}

// of returns the shard of a key (FNV-1a).
func (c *memo[T]) of(key []byte) *shard[T] {
	h := uint32(2166136261)
	for _, b := range key {
		h = (h ^ uint32(b)) * 16777619
	}
	return &c.shards[h>>8&63]
}

func (c *memo[T]) get(key []byte) (T, bool) {
	s := c.of(key)
	s.mu.RLock()
	v, ok := s.m[string(key)]
	s.mu.RUnlock()
	return v, ok
}

func (c *memo[T]) put(key []byte, v T) {
	s := c.of(key)
	s.mu.Lock()
	if s.m == nil {
		s.m = map[string]T{}
	}
	s.m[string(key)] = v
	s.mu.Unlock()
}
