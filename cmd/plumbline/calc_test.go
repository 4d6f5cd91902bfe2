package main

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"plumbline/internal/calc"
)

// The sources of the check values. Where a number is derived there is no
// published one to compare with.
const (
	books    = "V. Cossalter, Motorcycle Dynamics, 2006, ch. 1; T. Foale 2002 (from memory); numbers derived"
	twoHeads = "owners' data of a superbike with an adjustable head: 24.5° and 97 mm, 23.5° and 91 mm; offset from memory"
	printed  = "published specification; offset derived"
	chart    = "a tyre retailer's circumference chart; ETRTO sizes from memory"
	rigid    = "rigid-body geometry, derived"
	sagPage  = "a suspension maker's technical page 'Sag' (method); numbers derived"
	linear   = "linear spring and preload, derived"
	shigley  = "Shigley's Mechanical Engineering Design, ex. 10-1 (from memory)"
	coil     = "k = G·d⁴/(8·D³·Na), derived"
	sp811    = "NIST SP 811 (2008), appendix B.8, rederived from the exact definitions"
	yz       = "an off-road machine's owner's service manual prints 0.469 kg/mm, 26.3 lb/in and 5.7 kg/mm, 319.2 lb/in"
	example  = "published machine-design example, N 20/63, C 36 pitches, prints 114.8 and 35.6"
	sport    = "a sport 600's service manual (525, 114 links, 43/16); rest derived"
	ansi     = "ANSI B29.1 unit-pitch table (from memory)"
	wear     = "limits in service manuals of sport machines"
	vModel   = "weightless taut V, derived, no published source"
	cossalt  = "Cossalter / Foale definitions, derived"
	mailing  = "worked example on a riders' mailing list, July 2002, prints 18.7 and 23.9"
	gas      = "ideal gas law, derived"
	iso      = "ISO 2533:1975 / ICAO Doc 7488 (from memory), recomputed"
	poly     = "polytropic law, derived"
	rao      = "S. S. Rao, Mechanical Vibrations, 'Shock absorber for a motorcycle' (results from memory)"
	notes    = "university vibration notes, AER 403 lecture 12, example 8.4"
	seller   = "a page quoting a tyre seller; a tyre seller's load-index table"
)

// wants are values by symbol, each with its tolerance after a colon.
type calcRow struct {
	id, args string
	want     map[string][2]float64
	source   string
}

func abs(pairs ...any) map[string][2]float64 {
	m := map[string][2]float64{}
	for i := 0; i < len(pairs); i += 3 {
		m[pairs[i].(string)] = [2]float64{number(pairs[i+1]), number(pairs[i+2])}
	}
	return m
}

func number(v any) float64 {
	if i, ok := v.(int); ok {
		return float64(i)
	}
	return v.(float64)
}

func relative(share float64, pairs ...any) map[string][2]float64 {
	m := map[string][2]float64{}
	for i := 0; i < len(pairs); i += 2 {
		m[pairs[i].(string)] = [2]float64{number(pairs[i+1]), share * math.Abs(number(pairs[i+1]))}
	}
	return m
}

const (
	stance = "geometry-change wheelbase=1400mm rake=24deg offset=30mm front-radius=299.9mm rear-radius=314.9mm "
	side   = "squat wheelbase=1400 rear-radius=314.9 pivot-ahead=570 sprocket-ahead=645 sprocket-height=430 pitch=15.875mm "
	shock  = "settle rate=95N/mm motion-ratio=0.5 load=600N rider-load=560N "
)

func moved(rake, trail, wheelbase, pitch, rule float64) map[string][2]float64 {
	return abs("rake", rake, 0.0005, "trail", trail, 0.005, "wheelbase", wheelbase, 0.005, "pitch", pitch, 0.0005, "rule-pitch", rule, 1e-6, "rule-error", 0.0, 3.0)
}

func squats(arm, chain, ax, az, squat, transfer, ratio, anti, tension float64) map[string][2]float64 {
	return abs("swingarm-angle", arm, 0.001, "chain-angle", chain, 0.001, "a-ahead", ax, 0.05, "a-height", az, 0.05,
		"squat-angle", squat, 0.001, "transfer-angle", transfer, 0.001, "squat-ratio", ratio, 1e-5, "anti-squat", anti, 0.001, "chain-over-drive", tension, 1e-5)
}

func air(mpa, force, rate float64) map[string][2]float64 {
	return relative(1e-5, "air-pressure-mpa", mpa, "air-force", force, "air-rate", rate)
}

var calcRows = []calcRow{
	{"C1.1", "geometry radius=300mm rake=24deg offset=30mm", abs("trail", 100.7295, 0.001, "normal-trail", 92.02099, 0.001, "flop", 37.42831, 0.001), books},
	{"C1.2", "geometry radius=299.9mm rake=24°30' offset=36mm", abs("trail", 97.11018, 0.001), twoHeads},
	{"C1.2 as printed", "geometry tyre=120/70R17 rake=24.5deg offset=36mm", abs("trail", 97, 1), twoHeads},
	{"C1.3", "geometry radius=299.9mm rake=23.5deg offset=36mm", abs("trail", 91.14435, 0.001), twoHeads},
	{"C1.4 slack", "geometry radius=299.9mm rake=24.5deg trail=97mm", abs("offset", 36.10026, 0.001), twoHeads},
	{"C1.4 steep", "geometry radius=299.9mm rake=23.5deg trail=91mm", abs("offset", 36.13238, 0.001), twoHeads},
	{"C1.5", "geometry radius=299.9mm rake=24deg trail=102mm", abs("offset", 28.79868, 0.001), printed},
	{"C1.6", "geometry radius=299.9mm head=63.5deg trail=100.7mm", abs("rake", 26.5, 0.001, "offset", 43.69483, 0.001), printed},
	{"C1.7", "geometry radius=300mm rake=24deg offset=30mm", abs("trail-per-degree", 6.018727, 0.0005, "trail-per-radius", 0.4452287, 0.0005, "trail-per-offset", -1.094636, 0.0005), books},
	{"C1.8", "tyre 120/70-17", abs("diameter", 599.8, 0.01, "circumference", 1884.327, 0.01), chart},
	{"C1.8 as printed", "tyre 120/70R17", abs("diameter", 600, 3, "circumference", 1883, 3), chart},
	{"C1.9", "tyre 180/55ZR17", abs("diameter", 629.8, 0.01, "circumference", 1978.575, 0.01), chart},
	{"C1.10", "tyre 180/60-17", abs("diameter", 647.8, 0.01, "circumference", 2035.124, 0.01), chart},
	{"C1.11", "tyre 190/50-17", abs("diameter", 621.8, 0.01, "circumference", 1953.442, 0.01), chart},
	{"C1.12", "tyre 190/55-17", abs("diameter", 640.8, 0.01, "circumference", 2013.133, 0.01), chart},

	{"C2.1", stance, moved(24, 100.685, 1400, 0, 0), rigid},
	{"C2.2", stance + "fork-raised=10mm", moved(23.62503, 98.43475, 1395.864, 0.3749708, 0.3738736), rigid},
	{"C2.3", stance + "fork-raised=-5mm", moved(24.18666, 101.8095, 1402.09, -0.1866617, -0.1869368), rigid},
	{"C2.4", stance + "rear-raised=1cm", moved(23.59074, 98.22953, 1399.929, 0.4092643, 0.4092556), rigid},
	{"C2.5", stance + "rear-raised=10mm swingarm=580mm swingarm-angle=11deg", moved(23.59014, 98.22596, 1397.893, 0.4098601, 0.4092556), rigid},
	{"C2.6", stance + "fork-raised=5mm rear-raised=5mm", moved(23.60786, 98.33198, 1397.896, 0.3921425, 0.3915646), rigid},
	{"C2.7", stance + "new-rear-radius=320.4mm", moved(23.7749, 99.33278, 1399.93, 0.2250959, 0.2250906), rigid},
	{"C2.8", stance + "new-front-radius=295.9mm", moved(23.8363, 97.93392, 1399.951, 0.163705, 0.1637022), rigid},

	{"axle by hand", stance + "axle-back=-4.255927mm swingarm=580mm swingarm-angle=11deg", abs("wheelbase", 1395.8312, 0.001, "rake", 24.03333, 0.0005), rigid + "; 4.2559·cos 11° = 4.1777 forward and 4.2559·sin 11° = 0.8121 up, by hand"},
	{"axle by gearing", stance + "front=16 rear=43 new-rear=44 links=114 swingarm=580mm swingarm-angle=11deg", abs("wheelbase", 1395.8312, 0.001, "rake", 24.03333, 0.0005), sport},
	{"C3.1", "sag extended=500mm pushed=466mm lifted=472mm", abs("sag", 31, 1e-9, "stiction", 6, 1e-9, "half-stiction", 3, 1e-9), sagPage},
	{"C3.2", "sag extended=22.5in pushed=21.125in lifted=21.375in", abs("sag", 31.75, 1e-6, "stiction", 6.35, 1e-6), sagPage},
	{"C3.3", "settle rate=9.5N/mm legs=2 preload=12mm load=650N rider-load=280N", abs("free", 22.21053, 0.001, "rider", 36.94737, 0.001, "difference", 14.73684, 0.001), linear},
	{"C3.4", "settle rate=9,9.5N/mm preload=12mm load=650N rider-load=280N", abs("wheel-rate", 18.5, 0.001, "free", 23.13514, 0.001, "rider", 38.27027, 0.001), linear},
	{"C3.5", shock + "preload=10mm", abs("wheel-rate", 23.75, 0.001, "free", 5.263158, 0.001, "rider", 28.84211, 0.001), linear},
	{"C3.6", shock + "preload=14mm", abs("free", 0, 0.001, "raw-free", -2.736842, 0.001, "rider", 20.84211, 0.001, "difference", 20.84211, 0.001), linear},
	{"C3.7", "spring-rate free=8mm rider=32mm rider-load=560N motion-ratio=0.5", abs("wheel-rate", 23.33333, 0.001, "rate", 93.33333, 0.001), linear},
	{"C3.8", "sag-range end=front use=race travel=120mm", abs("rider-low", 27.6, 1e-9, "rider-high", 32.4, 1e-9, "rider-low-printed", 25, 1e-9, "rider-high-printed", 35, 1e-9), "a suspension maker's technical page 'Sag', road race"},
	{"C3.9", shock + "preload=10mm new-rate=100N/mm", abs("rider", 28.84211, 0.001, "new-rider", 26.4, 0.001, "new-free", 4, 0.001), linear},

	{"C4.1", "spring-wire modulus=11.85Mpsi wire=0.037in mean=0.4in active=10.5", abs("rate-lbf-in", 4.131103, 0.005), shigley + ", prints 4.13"},
	{"C4.2", "spring-wire modulus=11850000psi wire=0.037in outside=0.4375in total=12.5 ends=squared", abs("rate-lbf-in", 4.11565, 0.0005, "active", 10.5, 1e-9, "mean", 0.4005*25.4, 1e-9), shigley + ", D not rounded"},
	{"C4.3", "spring-wire modulus=79300MPa wire=11.5mm mean=61.5mm active=6", relative(1e-6, "rate", 124.2218, "rate-kgf-mm", 12.6671, "rate-lbf-in", 709.3251), coil},
	{"C4.4", "spring-wire modulus=77.2GPa wire=5mm mean=31mm active=30", relative(1e-6, "rate", 6.748403), coil},
	{"C4.5", "spring-cut rate=6.748403N/mm active=30 new-active=29", relative(1e-6, "new-rate", 6.981106), coil},
	{"C4.6", "springs rates=80,120N/mm", abs("series", 48, 1e-9), "elementary"},
	{"C4.7", "springs rates=9,9.5N/mm", abs("parallel", 18.5, 1e-9), "elementary"},
	{"C4.8", "convert 4.6N/mm", abs("kgf/mm", 0.4690695, 0.0005, "lbf/in", 26.26668, 0.0005), yz},
	{"C4.9", "convert 56N/mm", abs("kgf/mm", 5.710411, 0.001, "lbf/in", 319.7683, 0.001), yz},
	{"C4.9 as printed", "convert 56N/mm lbf/in", abs("result", 319.2, 0.7), yz},
	{"C4.10 lbf/in", "convert 1lbf/in N/mm", relative(1e-7, "result", 0.175126835), sp811},
	{"C4.10 kgf/mm", "convert 1kgf/mm N/mm", relative(1e-7, "result", 9.80665), sp811},
	{"C4.10 both", "convert 1kgf/mm lbf/in", relative(1e-7, "result", 55.9974146), sp811},

	{"C5.1", "chain-length front=20 rear=63 pitch=10mm centre=360mm", abs("links", 114.801, 0.0005, "exact-links", 114.805, 0.0005), example},
	{"C5.2", "chain-length front=20 rear=63 pitch=10mm links=114", abs("centre-pitches", 35.59205, 0.0005), example},
	{"C5.3", "chain-length front=16 rear=43 links=114 chain=525", abs("centre", 667.2315, 0.01), sport},
	{"C5.4", "chain-length front=16 rear=43 links=114 pitch=5/8in new-rear=44", abs("new-centre", 662.9755, 0.01, "axle-move", -4.255927, 0.01), sport},
	{"C5.5", "chain-length front=16 rear=43 links=114 new-front=15", abs("new-centre", 670.9579, 0.01, "axle-move", 3.726478, 0.01), sport},
	{"C5.6", "chain-length front=16 rear=43 links=114 new-links=116", abs("new-centre", 683.1879, 0.01, "axle-move", 15.95645, 0.01), sport},
	{"C5.7", "chain-length front=16 rear=43 centre=667.2315mm pitch=15.875mm", abs("links", 114, 1e-5), sport},
	{"C5.8", "chain-length front=16 rear=45 links=114", abs("front-diameter", 81.37257, 0.001, "rear-diameter", 227.5774, 0.001), ansi},
	{"C5.8 17", "chain-length front=17 rear=45 links=114", abs("front-diameter", 86.39478, 0.001), ansi},
	{"C5.9", "gearing front=16 rear=43 new-front=15", abs("ratio", 2.6875, 0.0005, "new-ratio", 2.866667, 0.0005, "change", 6.666667, 0.0005), "a sport 600's service manual prints 2.687"},
	{"C5.10", "gearing front=16 rear=43 primary=1.974 gears=1.208 rpm=10000 tyre=180/55-17", abs("speed", 185.2428, 0.01, "speed-mph", 115.1045, 0.01, "turns", 6.408591, 0.01), "ratios of a sport 600 (from memory); no published speed"},
	{"C5.11 new", "chain-wear measured=317.5mm pitches=20", abs("elongation", 0, 0.001), wear},
	{"C5.11 limit", "chain-wear measured=319.4mm pitches=20", abs("elongation", 0.5984252, 0.001), wear},
	{"C5.11 wide", "chain-wear measured=323mm pitches=20 pitch=15.875mm", abs("elongation", 1.732283, 0.001), wear},
	{"C5.12", "chain-slack run=600mm slack=45mm to=30mm", abs("spare", 1.6875, 0.001, "spare-after", 0.75, 0.001, "axle-move", 0.46875, 0.001), vModel},
	{"C5.13 428", "chain-wear measured=254mm pitches=20 chain=428", abs("new-length", 254, 1e-9), "a chain seller's guide"},
	{"C5.13 525", "chain-wear measured=317.5mm pitches=20 chain=525", abs("new-length", 317.5, 1e-9), "a sport machine's service manual"},
	{"axle and wheelbase", "gearing front=16 rear=43 new-rear=44 links=114 wheelbase=1400mm", abs("axle-move", -4.255927, 0.01, "wheelbase", 1395.744, 0.01), sport},

	{"C6.1", side + "centre-height=600 pivot-height=420 front=16 rear=43", squats(10.4472, 4.155924, 975.8566, 494.8343, 26.88851, 23.19859, 0.8451805, 118.3179, 2.895902), cossalt},
	{"C6.2", side + "centre-height=600 pivot-height=415 front=16 rear=43", squats(9.960378, 4.155924, 1059.004, 500.8759, 25.3127, 23.19859, 0.90613, 110.3594, 2.895902), cossalt},
	{"C6.3", side + "centre-height=600 pivot-height=420 front=16 rear=45", squats(10.4472, 3.711819, 954.115, 490.8254, 27.22265, 23.19859, 0.8330995, 120.0337, 2.76741), cossalt},
	{"C6.4", side + "centre-height=600 pivot-height=420 front=15 rear=43", squats(10.4472, 3.935274, 942.9261, 488.7623, 27.3998, 23.19859, 0.8268051, 120.9475, 2.895902), cossalt},
	{"C6.5", side + "centre-height=650 pivot-height=420 front=16 rear=43", squats(10.4472, 4.155924, 975.8566, 494.8343, 26.88851, 24.90477, 0.9156122, 109.2165, 2.895902), cossalt},

	{"C7.1 cooled", "pressure pressure=20psi from=70F to=50F ambient=14.7psi", inUnit(6.894757, "pressure", 18.69057, 0.005), mailing},
	{"C7.1 heated", "pressure pressure=20psi from=70F to=130F ambient=14.7psi", inUnit(6.894757, "pressure", 23.9283, 0.005), mailing},
	{"C7.2", "pressure pressure=33psi from=15C to=70C ambient=14.696psi", inUnit(6.894757, "pressure", 42.10387, 0.005), gas},
	{"C7.3 24", "pressure pressure=24psi from=70F to=80F ambient=14.696psi", inUnit(6.894757, "change", 0.7305681, 0.001), "a tyre maker's rule; derived"},
	{"C7.3 30", "pressure pressure=30psi from=70F to=80F ambient=14.696psi", inUnit(6.894757, "change", 0.8438462, 0.001), "a tyre maker's rule; derived"},
	{"C7.3 38", "pressure pressure=38psi from=70F to=80F ambient=14.696psi", inUnit(6.894757, "change", 0.9948836, 0.001), "a tyre maker's rule; derived"},
	{"C7.4", "pressure pressure=2.1bar from=20C to=75C", inUnit(100, "pressure", 2.684099, 0.0005), gas},
	{"C7.5", "pressure pressure=2.4bar from=80C to=15C", inUnit(100, "pressure", 1.771765, 0.0005), gas},
	{"C7.5 as asked", "cold-pressure wanted=2.4bar hot-at=80C today=15C", inUnit(100, "cold", 1.771765, 0.0005), gas},
	{"C7.6", "atmosphere altitude=0m", abs("kelvin", 288.15, 0.001, "pressure-pa", 101325, 0.5, "density", 1.225, 1e-5), iso},
	{"C7.7", "atmosphere altitude=500m", abs("kelvin", 284.9, 0.001, "pressure-pa", 95460.835, 0.5, "density", 1.1672688, 1e-5), iso},
	{"C7.8", "atmosphere altitude=1000m", abs("kelvin", 281.65, 0.001, "pressure-pa", 89874.563, 0.5, "density", 1.1116425, 1e-5), iso},
	{"C7.9", "atmosphere altitude=2km", abs("kelvin", 275.15, 0.001, "pressure-pa", 79495.202, 0.5, "density", 1.0064901, 1e-5), iso},
	{"C7.10", "atmosphere altitude=1000m by=geometric", abs("kelvin", 281.65102, 0.001, "pressure-pa", 89876.278, 0.5, "density", 1.1116597, 1e-5), iso},
	{"C7.11", "pressure pressure=2.1bar from=20C to-altitude=1000m", inUnit(100, "pressure", 2.214504, 0.0005), gas},

	{"C8.1", "fork-air volume=300cm3 area=1452.2mm2 travel=120mm at=50mm exponent=1", air(0.13368, 46.98596, 1.23979), poly},
	{"C8.1", "fork-air volume=300cm3 area=1452.2mm2 travel=120mm at=50mm exponent=1.2", air(0.1412982, 58.04901, 1.572531), poly},
	{"C8.1", "fork-air volume=300cm3 area=1452.2mm2 travel=120mm at=50mm exponent=1.4", air(0.1493504, 69.74252, 1.939171), poly},
	{"C8.1", "fork-air volume=300000mm3 area=1452.2mm2 travel=120mm at=100mm exponent=1", air(0.1963917, 138.0558, 2.675846), poly},
	{"C8.1", "fork-air volume=0.3l area=14.522cm2 travel=120mm at=100mm exponent=1.2", air(0.2241838, 178.4156, 3.665419), poly},
	{"C8.1", "fork-air volume=300cm3 area=1452.2mm2 travel=120mm at=100mm exponent=1.4", air(0.255909, 224.4869, 4.881482), poly},
	{"C8.2", "fork-air volume=300cm3 oil-added=15cm3 area=1452.2mm2 travel=120mm at=100mm exponent=1.2", air(0.23823, 198.8134, 4.31306), poly},
	{"C8.3", "fork-air volume=260cm3 area=1256.6mm2 travel=120mm at=0mm exponent=1 start=2bar", air(0.301325, 251.32, 1.83002), poly},
	{"C8.3", "fork-air volume=260cm3 area=1256.6mm2 travel=120mm at=0mm exponent=1.4 start=2bar", air(0.301325, 251.32, 2.562029), poly},
	{"C8.3", "fork-air volume=260cm3 area=1256.6mm2 travel=120mm at=60mm exponent=1 start=200kPa", air(0.4243922, 405.9663, 3.630115), poly},
	{"C8.3", "fork-air volume=260cm3 area=1256.6mm2 travel=120mm at=60mm exponent=1.4 start=200kPa", air(0.4866988, 484.2608, 5.828293), poly},

	{"C9.1", "bounce overshoot=0.25 period=2s mass=200kg", abs("decrement", 2.772589, 5e-5, "zeta", 0.4037128, 5e-5, "wn", 3.433863, 0.0005, "critical", 1373.545, 0.001374, "damping", 554.5177, 0.000555, "stiffness", 2358.283, 0.00236), rao},
	{"C9.1 as printed", "bounce overshoot=0.25 period=2s mass=200kg", abs("damping", 554.4981, 0.0277, "stiffness", 2358.2652, 0.118), rao},
	{"C9.2", "bounce peaks=0.85,0.45,0.25 period=12s", abs("decrement-first", 0.6359888, 5e-5, "decrement", 0.6118877, 5e-5, "zeta-first", 0.1007062, 5e-5), notes},
	{"C9.2 shortcut", "bounce peaks=0.85,0.45 period=12s", abs("zeta-shortcut", 0.1012208, 5e-5), notes},
	{"C9.3", "bounce overshoot=0.1", abs("zeta", 0.591155, 1e-6), "formula, derived"},
	{"C9.4", "bounce overshoot=0.3", abs("zeta", 0.3578571, 1e-6), "formula, derived"},
	{"C9.5", "bounce peaks=40,2.5 cycles=3", abs("decrement", 0.9241962, 1e-6, "zeta", 0.1455246, 1e-6), "formula, derived"},
	{"trace", "bounce-trace trace=@../../testdata/bounces/made.csv", abs("zeta", 0.22, 0.02, "natural-hz", 2.1, 0.06), "made with zeta 0.22 at 2.1 Hz"},

	{"C12.1", "tyre-age XXXXXXX2714", abs("week", 27, 1e-9, "year", 2014, 1e-9), seller},
	{"C12.2", "tyre-age 039", abs("week", 3, 1e-9, "year-last-digit", 9, 1e-9), "an owners' site prints 'third week of 1999'"},
	{"C12.4 58", "tyre 120/70ZR17(58W)", abs("load", 236, 1e-9), seller},
	{"C12.4 73", "tyre 180/55ZR17(73W)", abs("load", 365, 1e-9), seller},
	{"C12.4 75", "tyre 190/55ZR17(75W)", abs("load", 387, 1e-9), seller},
	{"C12.5", "chain-wear measured=320.5mm", abs("elongation", 0.9448819, 0.001), "a 250's owner's manual"},

	{"twist", "bars angle=1.5deg half=360mm", abs("offset", 9.4237, 0.0001), "360·sin 1.5°, by hand"},
	{"ride frequency", "ride-frequency front-rate=19N/mm front-mass=100kg", abs("front-hz", 2.1937995, 1e-6), "√(190)/2π, by hand"},
}

// inUnit is a canonical value given in a unit of so many canonical ones.
func inUnit(factor float64, symbol string, want, within float64) map[string][2]float64 {
	return map[string][2]float64{symbol: {want * factor, within * factor}}
}

func TestCalcReproducesTheCheckValues(t *testing.T) {
	for _, r := range append(calcRows, outsideRows...) {
		args := append([]string{"calc", "--json"}, strings.Fields(r.args)...)
		code, out, errs := call(args...)
		var got calc.Result
		if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitDone || r.source == "" {
			t.Errorf("%s: plumbline calc %s: exit %d, %v, %s%s", r.id, r.args, code, err, out, errs)
			continue
		}
		values := map[string]float64{}
		for _, v := range got.Values {
			values[v.Symbol] = v.Value
		}
		for symbol, w := range r.want {
			v, ok := values[symbol]
			if !ok || !(math.Abs(v-w[0]) <= w[1]) {
				t.Errorf("%s: plumbline calc %s: %s is %.9g, want %.9g within %g (%s)", r.id, r.args, symbol, v, w[0], w[1], r.source)
			}
		}
	}
}

// What the words must say, and what bad input is told. Exit 1: something is
// wrong with what was given; 2: called wrongly.
func TestCalcSays(t *testing.T) {
	for _, r := range []struct {
		args string
		code int
		says string
	}{
		{"", exitUsage, "calc --list"},
		{"--list", exitDone, "geometry-change"},
		{"help", exitDone, "Topics:"},
		{"help geometry", exitDone, "t = (R·sin e − d)/cos e"},
		{"geometry --help", exitDone, "Cossalter"},
		{"geometry --help", exitDone, "mm/deg  Trail per degree of rake"},
		{"fly rake=1", exitUsage, `no topic "fly"`},
		{"geometry 24deg", exitUsage, "not name=value"},
		{"geometry --loud", exitUsage, "no option"},
		{"geometry rake=24 rake=25", exitUsage, "given twice"},
		{"bounce-trace trace=@no-such-file", exitUsage, "no such file"},
		{"geometry rake=0deg radius=300mm offset=30mm", exitFault, "Rake cannot be 0°. Rake is from the vertical"},
		{"geometry rake=24deg offset=30mm", exitFault, "Neither radius nor tyre was given."},
		{"geometry rake=24deg radius=300kg offset=30mm", exitFault, `"kg" is not a unit of length`},
		{"geometry rake=24deg radius=300mm offset=30mm weight=3", exitFault, `takes no "weight"`},
		{"pressure pressure=-1bar from=20C to=60C", exitFault, "Pressure cannot be −1 bar"},
		{"sag-pair end=rear free=40mm rider=30mm", exitFault, "Free sag is not below rider sag"},
		{"chain-length front=16 rear=43 links=34", exitFault, "does not go around these sprockets"},
		{"bounce-trace trace=@../../testdata/bounces/noise.csv", exitFault, "no clean decay"},
		{"tyre-age 5514", exitFault, "no week 55"},
		{"gearing front=16.5 rear=43", exitFault, "not a whole number"},
		{"fork-air volume=100cm3 diameter=43mm travel=120mm", exitFault, "no air is left"},
		{"sag extended=500mm pushed=472mm lifted=466mm", exitFault, "stiction holds it the other way"},
		{"bars left=1003mm right=1000mm half=360mm away=950mm", exitDone, "straight within 2 mm"},
		{"bars left=1012mm right=1000mm half=360mm away=950mm", exitDone, "turned to the right"},
		{"chain-tightest front=16 rear=43 slack=20mm swingarm=580mm sprocket-ahead=75mm sprocket-above=10mm at=15deg topped=15deg bottomed=-5deg", exitDone, "Do not ride"},
		{"settle rate=0.01N/mm preload=12mm load=650N rider-load=280N", exitFault, "no motorcycle has more than 500 mm of travel"},
		{"preload rate=9.5N/mm load=9000N sag=30mm", exitFault, "no spring is set with more than 200 mm"},
		{"spring-rate free=8mm rider=32mm rider-load=560N motion-ratio=0.05", exitFault, "and none is made"},
		{"spring-rate free=8mm rider=32mm rider-load=560N motion-ratio=0.5 load=10000N", exitFault, "no spring is set with more than 200 mm"},
		{"geometry rake=24deg radius=1e9mm offset=30mm", exitFault, "cannot be 1000000000 mm"},
		{"convert 10N/mm psi", exitFault, "Use one of N/mm, N/m, N/cm, kgf/mm, kg/cm, lbf/in."},
		{"sag extended=500±0.5mm pushed=466mm lifted=472mm", exitDone, "31.0 ± 0.9 mm"},
	} {
		code, out, errs := call(append([]string{"calc"}, strings.Fields(r.args)...)...)
		if code != r.code || !strings.Contains(out+errs, r.says) {
			t.Errorf("plumbline calc %s: exit %d, said %s%s; want exit %d and %q", r.args, code, out, errs, r.code, r.says)
		}
	}
}

func TestCalcJSON(t *testing.T) {
	for _, args := range []string{"--list --json", "help geometry --json", "geometry rake=24 radius=300 offset=30 --json", "geometry rake=0 --json"} {
		_, out, _ := call(append([]string{"calc"}, strings.Fields(args)...)...)
		var v any
		if err := json.Unmarshal([]byte(out), &v); err != nil {
			t.Errorf("calc %s: %v: %s", args, err, out)
		}
	}
	_, out, _ := call("calc", "--json", "geometry", "rake=0", "radius=300", "offset=30")
	var bad struct{ Problems []calc.Problem }
	if err := json.Unmarshal([]byte(out), &bad); err != nil || len(bad.Problems) != 1 || bad.Problems[0].Field != "rake" {
		t.Errorf("problems are %+v, %v", bad, err)
	}
}

// Every topic's help names every input with its unit, the formula and the
// source, and its example works.
func TestCalcHelp(t *testing.T) {
	for _, topic := range calc.Topics() {
		code, out, errs := call("calc", "help", topic.ID)
		for _, want := range []string{topic.Title, topic.Formula, topic.Source, topic.Example} {
			if code != exitDone || !strings.Contains(out, want) {
				t.Errorf("%s: exit %d, help lacks %q %s", topic.ID, code, want, errs)
			}
		}
		for _, in := range topic.Inputs {
			if !strings.Contains(out, fmt.Sprintf("  %s  %s", in.Symbol, in.Label)) {
				t.Errorf("%s: help lacks %s", topic.ID, in.Symbol)
			}
		}
		args := strings.Fields(strings.ReplaceAll(topic.Example, "@", "@../../"))
		if code, _, errs := call(append([]string{"calc", topic.ID}, args...)...); code != exitDone {
			t.Errorf("%s: the example of its help fails: %s", topic.ID, errs)
		}
	}
}
