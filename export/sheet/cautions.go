package sheet

// Cautions are printed on every sheet that a person works from.
var Cautions = []string{
	"Layout aid, not approved data.",
	"Covering, finishing, repair, weight and balance, control-surface balance and registration marks are decided by appropriately licensed people under AC 43.13-1B, 14 CFR 43 and 45 or the national equivalents, and the makers' data.",
	"Nitrate dope is highly flammable: ground the structure, ventilate, no source of ignition. Breathing protection always; supplied air for paints with isocyanates.",
	"No heat near nitrate dope; little on taut fabric, which tightens more. Never cut film on fabric.",
	"Patch-test the film on the dope for 24 h before laying it.",
	"Old paint may hold lead or chromates: test it, no dry sanding. Oily rags go into a closed metal can at once. Fire watch and extinguisher at hand.",
	"Work from a platform, not from the wing or a chair; tools on a lanyard. Paint is weight: keep the build-up in the aircraft's records.",
	"A repainted control surface needs a balance check; it is locked in neutral while film spans its gap. Balance checked by ____________________  certificate number ______________  date ____________",
}

// WorkCautions are the same in short, for a card that has to stay on one page.
var WorkCautions = []string{
	"Layout aid, not approved data; licensed people and the makers' data decide.",
	"Nitrate dope is highly flammable: ground the structure, ventilate, no heat, fire watch.",
	"Breathing protection; supplied air for isocyanates. Never cut film on fabric.",
	"Old lead and chromate paints: no dry sanding. Oily rags into a closed can. Work from a platform.",
}
