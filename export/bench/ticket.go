//go:build !js

package bench

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"sync"
	"time"
)

// ticketLife is how long an address can be opened, once.
const ticketLife = 60 * time.Second

// door lets pages in: a ticket, carried in an address, is changed once for the token that
// every request carries.
type door struct {
	token string // 256 bits
	now   func() time.Time

	mu      sync.Mutex
	tickets map[[sha256.Size]byte]time.Time // by their sum: until when
}

func newDoor() *door {
	return &door{token: secret(32), now: time.Now, tickets: map[[sha256.Size]byte]time.Time{}}
}

// secret is so many bytes that nobody can guess, as hexadecimal digits.
func secret(n int) string {
	b := make([]byte, n)
	rand.Read(b) // it never fails: it ends the program instead
	return hex.EncodeToString(b)
}

// ticket makes a ticket of 128 bits.
func (d *door) ticket() string {
	t := secret(16)
	d.mu.Lock()
	defer d.mu.Unlock()
	for sum, until := range d.tickets {
		if d.now().After(until) {
			delete(d.tickets, sum)
		}
	}
	d.tickets[sha256.Sum256([]byte(t))] = d.now().Add(ticketLife)
	return t
}

// enter takes a ticket, which then is none any more.
func (d *door) enter(ticket string) bool {
	sum := sha256.Sum256([]byte(ticket))
	d.mu.Lock()
	defer d.mu.Unlock()
	until, ok := d.tickets[sum]
	delete(d.tickets, sum)
	return ok && !d.now().After(until)
}

// knows tells whether a token is the token; how long it takes tells nothing of it.
func (d *door) knows(token string) bool {
	return subtle.ConstantTimeCompare([]byte(token), []byte(d.token)) == 1
}
