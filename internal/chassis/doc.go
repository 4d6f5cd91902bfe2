// Package chassis is the arithmetic of a motorcycle's chassis: sag and
// springs, steering geometry, chain and gearing, squat, tyres, fork air,
// bounce and bars. It knows no book and no rider's words for his settings; it
// takes numbers and gives numbers or a Refusal.
//
// Unless a name or comment says otherwise: lengths mm, angles degrees, forces
// N, rates N/mm, gauge pressures kPa, temperatures °C, masses kg, times s. No
// function returns NaN or an infinity.
package chassis
