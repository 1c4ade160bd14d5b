//go:build !linux && !darwin

package audit

// exchange cannot be had on this system in one step.
func exchange(string, string) error { return errNoExchange }
