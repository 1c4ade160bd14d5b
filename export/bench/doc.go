// Package bench is the engine of the page in which a layout is looked at and changed,
// and what carries its messages.
//
// One text is the truth. The page holds the text, a selection and a view; all else is an
// answer of the engine to that text, named by its [Hash]. A [Request] goes in, one or
// more [Answer] come out, whatever carries them: [Bench.Serve] on the loopback address,
// or messages to a worker in the page where the engine is WebAssembly. protocol.go and
// protocolview.go hold the messages; protocol.ts is written from them.
//
// Lengths are inches and points are x aft, y to the pilot's right, z up, as everywhere.
// Drawings are about the anchor of their marking, x to the reader's right, y up.
package bench
