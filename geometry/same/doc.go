// Package same has sine and its kin with the same bits on every processor. Those of package
// math differ in the last bit: compilers fuse products and sums where a processor can, and
// some have the exponential in their own code. Here every product that is added is rounded
// by itself.
//
// Methods and coefficients are those of Go's package math (BSD licence; S. L. Moshier's
// Cephes library and Sun's fdlibm, as told there), so that on amd64 without fused products
// results are those of math but for the exponential. What package math computes exactly, or
// by one instruction, is taken from there.
package same
