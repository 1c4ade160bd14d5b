// Package sprayday decides whether the air is fit for spraying dope: the dew
// point with what the sensors leave open, windows of humidity and temperature
// each with its source, the surface against the dew point, the trend of a row
// of readings, and a verdict: inside the windows, wait or stop, with the reasons.
//
// Temperatures are degrees Celsius inside and relative humidity is in percent
// over water. The paint maker's sheet comes first; these windows stand where it
// says nothing.
package sprayday
