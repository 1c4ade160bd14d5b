package sheet

// Cautions are printed on every sheet that a person works from.
var Cautions = []string{
	"Layout aid, not approved data.",
	"Covering, finishing, repair, weight and balance, control-surface balance and registration marks are decided by appropriately licensed people under AC 43.13-1B, 14 CFR 43 and 45 or the national equivalents, and the makers' data.",
	"Nitrate dope is highly flammable: ground the structure, ventilate, no source of ignition. Breathing protection always; supplied air for paints with isocyanates.",
	"Never cut film on fabric.",
	"Patch-test the film on the dope for 24 h before laying it.",
	"A repainted control surface needs a balance check. Balance checked by ____________________  date ____________",
}
