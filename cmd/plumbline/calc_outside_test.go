package main

const (
	etrto    = "OD = 25.4·r + 2·W·A/100, ETRTO (from memory)"
	tangents = "straight runs tangent to both pitch circles plus the teeth on the wraps, solved by bisection"
)

// outsideRows are values that another program, written from the formulas of
// the sources and not from this one, gives for other inputs and other units.
var outsideRows = []calcRow{
	{"outside geometry", "geometry rake=23.3deg radius=298mm offset=28mm", relative(1e-7, "trail", 97.85281056, "normal-trail", 89.87255976, "flop", 35.54868682), books},
	{"outside geometry", "geometry rake=24°30' tyre=120/70ZR17 offset=1.2in", relative(1e-7, "trail", 103.176373, "normal-trail", 93.88650347, "flop", 38.93409857), books},
	{"outside geometry", "geometry head=65.5° radius=305mm offset=27,5mm", relative(1e-7, "trail", 108.7754415, "normal-trail", 98.98143901, "flop", 41.04693391), books},
	{"outside geometry", "geometry rake=0.42rad radius=300mm offset=32mm", relative(1e-7, "trail", 98.92588983, "normal-trail", 90.32813592, "flop", 36.83224163), books},
	{"outside geometry", "geometry rake=25.6deg radius=31cm trail=102mm", relative(1e-7, "offset", 41.95966444), books},
	{"outside geometry-change", "geometry-change wheelbase=1385mm rake=23.5deg offset=27mm front-radius=297mm rear-radius=312mm rear-raised=8mm front-sag=-4mm rear-sag=3mm", relative(1e-7, "rake", 23.44496981, "trail", 99.37059681, "wheelbase", 1386.581229, "pitch", 0.05503018792), rigid},
	{"outside geometry-change", "geometry-change wheelbase=1385mm rake=23.5deg offset=27mm front-radius=297mm rear-radius=312mm axle-back=12mm new-rear-radius=318mm", relative(1e-7, "rake", 23.25391291, "trail", 98.23799851, "wheelbase", 1396.922689, "pitch", 0.2460870875), rigid},
	{"outside geometry-change", "geometry-change wheelbase=1385mm rake=23.5deg offset=27mm front-radius=297mm rear-radius=312mm offset-more=2.5mm new-front-radius=300mm", relative(1e-7, "rake", 23.58272944, "trail", 98.77084798, "wheelbase", 1387.311423, "pitch", -0.08272944084), rigid},
	{"outside geometry-change", "geometry-change wheelbase=1385mm rake=23.5deg offset=27mm front-radius=297mm rear-radius=312mm fork-raised=−5mm axle-back=-7mm rear-raised=-3mm", relative(1e-7, "rake", 23.81492051, "trail", 101.5721179, "wheelbase", 1380.097038, "pitch", -0.3149205136), rigid},
	{"outside tyre", "tyre 110/80R19", relative(1e-7, "diameter", 658.6, "circumference", 2069.052922), etrto},
	{"outside tyre", "tyre 150/70B17", relative(1e-7, "diameter", 641.8, "circumference", 2016.274165), etrto},
	{"outside tyre", "tyre 90/90-21", relative(1e-7, "diameter", 695.4, "circumference", 2184.663531), etrto},
	{"outside settle", "settle rate=0.95kgf/mm legs=2 preload=15mm load=68kg rider-load=34kg", relative(1e-7, "wheel-rate", 18.632635, "free", 20.78947368, "rider", 38.68421053), linear},
	{"outside settle", "settle rate=550lbf/in motion-ratio=0.45 preload=9mm load=640N rider-load=540N", relative(1e-7, "wheel-rate", 19.50475128, "free", 12.81251788, "rider", 40.49807984), linear},
	{"outside preload", "preload rate=105N/mm motion-ratio=0.47 load=1240N sag=33mm", relative(1e-7, "preload", 9.616646403), linear},
	{"outside spring-rate", "spring-rate free=20mm rider=35mm rider-load=30kg legs=2 load=66kg", relative(1e-7, "rate-kgf-mm", 1, "preload", 13), linear},
	{"outside weights", "weights front=210lb rear=205lb front-with=280lb rear-with=310lb", relative(1e-7, "total", 188.2408336, "front-share", 50.60240964, "rider", 79.37866475, "front-rider-load", 311.3755131), sp811},
	{"outside spring-wire", "spring-wire wire=4.6mm outside=32mm total=42 modulus=78.5GPa", relative(1e-7, "rate", 5.339484335), coil},
	{"outside spring-wire", "spring-wire wire=0.192in outside=1.25in total=30 ends=plain modulus=11.2Mpsi", relative(1e-7, "rate-lbf-in", 53.54941031), coil},
	{"outside springs", "springs rates=8.5,9,10N/mm", relative(1e-7, "parallel", 27.5, "series", 3.041749503), "elementary"},
	{"outside wheel-rate", "wheel-rate rate=10.0kgf/mm motion-ratio=0.42 preload=11mm", relative(1e-7, "wheel-rate", 17.2989306, "wheel-preload", 26.19047619), linear},
	{"outside wheel-rate", "wheel-rate rate=100N/mm wheel=0,30,60,90,120mm shock=0,12.54,26.16,40.86,56.64mm at=60mm", relative(1e-7, "motion-ratio", 0.472, "wheel-rate", 22.2784), "slope of 0.4x + 0.0006x² at 60 mm, by hand"},
	{"outside chain-length", "chain-length front=15 rear=45 links=110 chain=520", relative(1e-7, "centre", 630.4434715, "exact-centre", 630.4379464, "rear-diameter", 227.577444), tangents},
	{"outside chain-length", "chain-length front=14 rear=48 links=116 chain=428", relative(1e-7, "centre", 535.3389017, "exact-centre", 535.3327902, "rear-diameter", 194.1803114), tangents},
	{"outside chain-length", "chain-length front=13 rear=50 links=108 chain=415", relative(1e-7, "centre", 479.9482451, "exact-centre", 479.9362605, "rear-diameter", 202.2598331), tangents},
	{"outside gearing", "gearing front=17 rear=42 primary=1.604 gears=1.0 rpm=11500rpm tyre=190/55ZR17", relative(1e-7, "speed", 350.5231723, "turns", 3.962823529), "n·C/(ip·ig·if), by hand"},
	{"outside chain-tightest", "chain-tightest front=16 rear=43 slack=35mm swingarm=580mm sprocket-ahead=75mm sprocket-above=10mm at=15deg topped=15deg bottomed=-5deg", relative(1e-7, "missing", 0.1709038633, "tightest", 7.594643369, "set", 39.3398325), tangents},
	{"outside squat", "squat wheelbase=1405mm centre-height=640mm rear-radius=316mm pivot-ahead=588mm pivot-height=415mm sprocket-ahead=668mm sprocket-height=422mm front=15 rear=45", relative(1e-7, "anti-squat", 111.8675094, "squat-angle", 27.00222746, "a-ahead", 926.1238264, "a-height", 471.9290116, "anti-squat-no-chain", 154.9412734), cossalt},
	{"outside squat", "squat wheelbase=1405mm centre-height=640mm rear-radius=316mm pivot-ahead=588mm pivot-height=415mm sprocket-ahead=668mm sprocket-height=422mm front=15 rear=40", relative(1e-7, "anti-squat", 108.2496609, "squat-angle", 26.24765478, "a-ahead", 973.1245361), cossalt},
	{"outside pressure", "pressure pressure=36psi from=68F to=150F", relative(1e-7, "pressure", 302.5292521), gas},
	{"outside pressure", "pressure pressure=2,5bar from=15C to=82C", relative(1e-7, "pressure", 331.6893111), gas},
	{"outside pressure", "pressure pressure=1.9bar from=22°C altitude=100m to-altitude=1200m", relative(1e-7, "pressure", 202.4138651), gas},
	{"outside atmosphere", "atmosphere altitude=-300m", relative(1e-7, "pressure-pa", 104981.2249, "density", 1.260671728), iso},
	{"outside atmosphere", "atmosphere altitude=11km", relative(1e-7, "pressure-pa", 22632.0401, "kelvin", 216.65), iso},
	{"outside fork-air", "fork-air oil-level=110mm bore=38mm diameter=41mm travel=115mm at=90mm exponent=1.25", relative(1e-7, "air-force", 136.0993241, "air-rate", 2.823154539, "volume", 276.5818902), poly},
	{"outside fork-air", "fork-air volume=0.35l area=15cm² travel=300mm at=200mm start=2bar exponent=1.4 ambient=95kPa", relative(1e-7, "air-pressure", 4497.376767, "air-force", 6603.56515, "air-rate", 283.3347363), poly},
	{"outside bounce", "bounce overshoot=0.12 period=550ms mass=96kg", relative(1e-7, "zeta", 0.5594163911, "wn", 13.78230839, "stiffness", 18235.39437, "damping", 1480.329451), rao},
	{"outside bounce", "bounce peaks=52,21,8.4mm", relative(1e-7, "decrement", 0.9115060064, "zeta", 0.1435678239), rao},
	{"outside bounce", "bounce peaks=30,-9,2.7", relative(1e-7, "zeta", 0.3578571305), rao},
	{"outside bars", "bars left=984.958408mm right=961.070723mm half=370mm away=900mm", relative(1e-5, "offset", 12.91281378), "ends of a bar turned by 2°, by coordinates"},
	{"outside convert", "convert 45lbf·ft N·m", relative(1e-7, "result", 61.01180767), sp811},
	{"outside convert", "convert 760mmHg Pa", relative(1e-7, "result", 101325.0144), "conventional mercury: 13 595.1 kg/m³ × 9.80665 m/s² × 0.76 m"},
}
