package parallel

import (
	"syscall/js"
	"time"
)

// turnEvery is how long work goes on without a look at what came meanwhile.
const turnEvery = 20 * time.Millisecond

var lastTurn time.Time

// Turn lets in what waits while this works, by globalThis.maskloftTurn(call), which calls
// back at the page's next message. Without it nothing waits.
func Turn() {
	if time.Since(lastTurn) < turnEvery {
		return
	}
	lastTurn = time.Now()
	turn := js.Global().Get("maskloftTurn")
	if turn.Type() != js.TypeFunction {
		return
	}
	done := make(chan struct{})
	call := js.FuncOf(func(js.Value, []js.Value) any {
		close(done)
		return nil
	})
	defer call.Release()
	turn.Invoke(call)
	<-done
}
