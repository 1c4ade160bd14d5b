//go:build !js

package parallel

// Turn lets in what waits while this works: where the program is WebAssembly in a page
// nothing else runs meanwhile, and a wish to cancel is not heard. Elsewhere it does
// nothing, since others run beside.
func Turn() {}
