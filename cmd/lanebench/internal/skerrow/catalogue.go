package skerrow

// The catalogue: one block per cell, one line per family of parts, the fields
// with bars between them:
//
//	code | description | variants | container | pack | kg | per unit | stations
//
// Variants stand with semicolons between them, each "text>products"; a family
// used by every lantern names * (foghorns are packed where they are built). %s in the description takes the text. A part
// used at several stations is a loop at each.
var catalogue = []struct{ cell, families string }{
	{"LENS", `
3101|Fresnel lens, %s|90 mm clear>RF90;160 mm clear>RF160;60 mm clear>HB60|B64-15|18|0.42|1|010
3102|Buoy dome, %s|clear>SK12,SK20;amber>SK12|B64-28|14|0.55|1|010
3103|Colour filter, %s|red>RF90,RF160;green>RF90,RF160;white>HB60;yellow>SK20|B43-15|60|0.06|1|030
3104|Lens ring, %s|90 mm>RF90;160 mm>RF160;60 mm>HB60;buoy>SK12,SK20|B43-28|40|0.11|1|040
3105|Diffuser disc, %s|tender>TD5;mast>MB4|B32-15|120|0.03|1|020
3106|Lens gasket, %s|90 mm>RF90;160 mm>RF160;60 mm>HB60;buoy>SK12,SK20;tender>TD5|B32-15|200|0.012|1|040
3107|Protective film, %s|small>TD5,MB4,HB60;large>RF90,RF160,SK12,SK20|CTN-32|250|0.018|1|020
3108|Lens clip, %s|steel>RF90,RF160;plastic>SK12,SK20,TD5|T-1512|480|0.011|4|030,040
3109|Prism insert, %s|sector>HB60;all-round>RF160|B43-15|30|0.16|1|020
3110|Cleaning cloth, %s|coarse>*;fine>*|CTN-43|300|0.013|1|010`},
	{"OPTIC", `
3201|LED board, %s|six die>RF90;twelve die>RF160;four die>HB60;three die>SK12,SK20;two die>TD5|B43-15|40|0.09|1|010
3202|Heat sink, %s|finned 90>RF90;finned 160>RF160;plate>HB60,MB4;star>SK12,SK20|B64-15|24|0.38|1|020
3203|Thermal pad, %s|round>RF90,RF160;square>HB60,MB4,SK12,SK20|B32-15|300|0.016|1|020
3204|Reflector, %s|deep>RF90,RF160;flat>HB60;ring>SK12,SK20|B43-28|36|0.12|1|030
3205|Light guide, %s|long>RF160;short>RF90;bent>MB4|B64-15|60|0.09|2|030
3206|Board standoff M3 x %s|6>RF90,RF160,HB60;8>SK12,SK20,TD5;10>MB4|B32-15|800|0.006|4|010,040
3207|Optic carrier, %s|A>RF90;B>RF160;C>HB60;D>SK12;E>SK20|B64-28|14|0.36|1|040
3208|Lead pair, %s|90 mm>RF90,RF160,HB60;140 mm>SK12,SK20|B43-15|250|0.024|1|050
3209|Photocell, %s|standard>SK12,SK20;dimming>RF90,RF160|CTN-32|150|0.03|1|050`},
	{"DRIVE", `
3301|Driver board, %s|12 V>RF90,SK12;24 V>RF160,HB60;wide range>MB4|B43-15|30|0.17|1|010
3302|Battery pack, %s|6 Ah>SK12;12 Ah>SK20|B43-28|8|1.1|1|020
3303|Charge controller, %s|plain>SK12;tracking>SK20|B43-15|28|0.22|1|020
3304|Flash coder, %s|16 codes>RF90,RF160;64 codes>SK12,SK20|B32-15|60|0.07|1|030
3305|Terminal block, %s|2-way>TD5,MB4;4-way>RF90,RF160;6-way>SK12,SK20|T-1512|300|0.021|1|010,040
3306|Fuse link, %s|1 A>RF90,TD5;2 A>RF160,SK12;5 A>SK20|B32-15|900|0.005|1|040
3307|Driver case, %s|lower>RF90,RF160,HB60;upper>RF90,RF160,HB60|B64-15|28|0.31|1|030
3308|Surge arrester, %s|small>RF90,HB60;large>RF160,MB4|B43-15|80|0.08|1|030
3309|Coin cell holder|>SK12,SK20|CTN-32|400|0.014|1|010
3310|Inductor, %s|22 uH>RF90,RF160;47 uH>SK12,SK20,MB4|B32-15|220|0.024|1|010
3311|Capacitor, %s|100 uF>RF90,RF160,HB60;470 uF>SK12,SK20;10 uF>TD5,MB4|B32-15|350|0.015|2|010
3312|Potting compound, %s|resin>*;hardener>*|CTN-43|12|0.8|0.05|040`},
	{"REEF-1", `
3401|Reef 90 base casting|>RF90|B64-28|5|1.9|1|010
3402|Reef 90 body, %s|upper>RF90;lower>RF90|B64-28|8|1.2|1|020
3403|Reef 90 guard ring, %s|top>RF90;bottom>RF90|B64-15|20|0.42|1|030
3404|Bird spike set|>RF90|CTN-43|30|0.25|1|050
3405|Cable gland M%s|16>RF90;20>RF90|B32-15|150|0.03|1|020,040
3406|O-ring %s, sea grade|84 x 3>RF90;96 x 3>RF90;102 x 4>RF90|B32-15|400|0.012|1|030
3407|Reef 90 bracket, %s|pole>RF90;deck>RF90|T-2415|16|0.66|1|040
3408|Screw set M5, %s|short>RF90;long>RF90|B32-15|180|0.034|2|010,030
3409|Earth strap|>RF90|CTN-32|180|0.03|1|020
3410|Drain plug|>RF90|B32-15|400|0.012|2|010
3411|Name plate, %s|one language>RF90;two languages>RF90|CTN-32|400|0.014|1|050
3412|Hinge, %s|left>RF90;right>RF90|B43-15|60|0.12|1|040
3413|Latch, %s|steel>RF90;bronze>RF90|B43-15|50|0.15|1|040
3414|Reef 90 inner frame|>RF90|B64-28|10|0.72|1|020
3415|Vent membrane|>RF90|CTN-32|500|0.009|1|050`},
	{"REEF-2", `
3501|Reef 160 base casting|>RF160|B64-28|3|3.4|1|010
3502|Reef 160 body, %s|upper>RF160;lower>RF160|B64-28|4|2.2|1|020
3503|Reef 160 guard ring, %s|top>RF160;bottom>RF160|B64-28|10|0.7|1|030
3504|Tower adaptor, welded|>RF160|CRATE-T|4|3.6|1|050
3505|Cable gland M%s|20 long>RF160;25>RF160|B32-15|110|0.04|1|020,040
3506|O-ring %s, sea grade|148 x 4>RF160;156 x 4>RF160;162 x 5>RF160|B32-15|220|0.021|1|030
3507|Reef 160 bracket, %s|pole>RF160;deck>RF160;wall>RF160|T-2415|9|1.15|1|040
3508|Screw set M6, %s|short>RF160;long>RF160|B32-15|140|0.046|2|010,030
3509|Lifting eye M8|>RF160|B32-15|90|0.08|2|050
3510|Reef 160 inner frame|>RF160|B64-28|6|1.3|1|020
3511|Reef 160 name plate|>RF160|CTN-32|400|0.016|1|050
3512|Counterweight, %s|small>RF160;large>RF160|B32-15|12|0.85|1|040
3513|Sector mask, %s|60 degrees>RF160;120 degrees>RF160;180 degrees>RF160|B43-15|40|0.14|1|030
3514|Desiccant bag|>RF160,RF90|CTN-32|200|0.02|1|050
3515|Reef 160 spike set|>RF160|CTN-43|20|0.38|1|050
3516|Junction box, %s|two way>RF160;four way>RF160|B43-28|14|0.48|1|020
3517|Reef 160 ladder hook, %s|left>RF160;right>RF160|B64-15|12|0.74|1|040`},
	{"HARB", `
3601|Harbour base, %s|plain>HB60;levelling>HB60|B64-28|4|2.3|1|010
3602|Harbour hood|>HB60|B64-28|6|1.35|1|030
3603|Sector screen, %s|red>HB60;white>HB60;green>HB60|B43-15|24|0.22|1|020
3604|Sight tube|>HB60|T-2415|10|0.9|1|040
3605|Levelling screw, %s|M8>HB60;M10>HB60|B32-15|80|0.07|3|010
3606|Spirit level vial|>HB60|CTN-32|60|0.05|2|010
3607|Cable gland M%s brass|16>HB60;20>HB60|B32-15|90|0.06|2|020,040
3608|Hood gasket, %s|inner>HB60;outer>HB60|B43-15|100|0.05|1|030
3609|Shutter vane, %s|left>HB60;right>HB60|B43-15|36|0.18|1|020
3610|Harbour name plate|>HB60|CTN-32|300|0.016|1|040
3611|Hose clip, %s|20 mm>HB60,FH3;32 mm>HB60|B32-15|200|0.02|2|030
3612|Bearing bush, %s|12 mm>HB60;16 mm>HB60|B32-15|160|0.045|2|020
3613|Lock nut M%s|8>HB60;10>HB60;12>HB60|B32-15|350|0.018|4|010,030
3614|Sun visor|>HB60|B64-15|16|0.4|1|030`},
	{"SKER-1", `
3701|Skerry 12 float collar, %s|upper>SK12;lower>SK12|B64-28|7|1.05|1|010
3702|Skerry 12 body|>SK12|B64-28|8|1.15|1|020
3703|Solar tile, %s|type 1>SK12;type 2>SK12|B64-15|16|0.52|2|030
3704|Tile frame|>SK12|B64-15|14|0.6|2|030
3705|Mooring eye|>SK12|B43-15|40|0.24|1|010
3706|O-ring %s, sea grade|64 x 3>SK12,SK20;72 x 3>SK12,SK20;78 x 4>SK12|B32-15|500|0.009|1|020,040
3707|Screw set A4, %s|M4>SK12;M5>SK12;M6>SK12|B32-15|220|0.028|4|010,030,050
3708|Bird spike, %s|steel>SK12;plastic>SK12|CTN-43|60|0.11|1|050
3709|Radar strip, %s|long>SK12;short>SK12|B64-15|30|0.26|2|040
3710|Skerry 12 name plate|>SK12|CTN-32|450|0.012|1|050
3711|Vent valve|>SK12,SK20|B32-15|180|0.03|1|040
3712|Antenna stub|>SK12|CTN-43|90|0.06|1|050
3713|Battery strap, %s|short>SK12;long>SK12|B43-15|160|0.035|1|020`},
	{"SKER-2", `
3801|Skerry 20 float collar, %s|upper>SK20;lower>SK20|B64-28|5|1.7|1|010
3802|Skerry 20 body|>SK20|B64-28|5|1.8|1|020
3803|Solar panel, %s|front>SK20;back>SK20|B64-15|8|1.05|2|030
3804|Panel hinge, %s|left>SK20;right>SK20|B43-15|50|0.16|2|030
3805|Mooring eye, heavy|>SK20|B43-15|20|0.5|1|010
3806|Telemetry board, %s|short range>SK20;long range>SK20|B43-15|24|0.2|1|040
3807|Antenna, %s|whip>SK20;stub>SK20|T-2415|40|0.15|1|040
3808|Screw set A4 %s|M6 long>SK20;M8>SK20|B32-15|130|0.05|4|010,030
3809|Cable gland M%s|25 sea>SK20;32 sea>SK20|B32-15|60|0.09|1|020
3810|Skerry 20 name plate|>SK20|CTN-32|350|0.017|1|040
3811|Bulkhead plug, %s|4-pin>SK20;7-pin>SK20|B43-15|60|0.12|1|040
3812|Clamp band|>SK20|B64-15|20|0.44|2|020
3813|Shackle, %s|8 mm>SK20;10 mm>SK20|B32-15|40|0.19|2|010
3814|Foam block, %s|ring>SK20;core>SK20|CTN-50|24|0.09|1|020`},
	{"TIDE", `
3901|Tide 5 shell, %s|red>TD5;green>TD5;white>TD5|B64-15|45|0.16|1|010
3902|Tide 5 base|>TD5|B64-15|60|0.12|1|010
3903|Tide 5 clip, %s|rail>TD5;pole>TD5|B43-28|120|0.05|1|020
3904|Cell contact, %s|plus>TD5;minus>TD5|B32-15|600|0.006|2|020
3905|Push switch|>TD5|B32-15|260|0.02|1|030
3906|Lanyard|>TD5|CTN-43|200|0.025|1|040
3907|Tide 5 seal, %s|top>TD5;bottom>TD5|B32-15|500|0.008|1|030
3908|Magnet disc|>TD5|B32-15|220|0.03|2|040
3909|Tide 5 box, %s|red>TD5;green>TD5;white>TD5|CTN-50|90|0.07|1|040
3910|Spring, %s|short>TD5;long>TD5|B32-15|900|0.004|2|030
3911|Suction foot|>TD5|B43-15|120|0.04|2|040
3912|Blister card, %s|shop>TD5;bulk>TD5|CTN-43|250|0.03|1|040`},
	{"MAST", `
4001|Masthead body, %s|fore>MB4;aft>MB4|B64-15|18|0.48|1|010
4002|Masthead bracket, %s|side>MB4;top>MB4|B64-15|16|0.55|1|020
4003|Mast step, long|>MB4|CRATE-T|5|2.9|1|040
4004|Anchor light ring|>MB4|B43-15|50|0.14|1|020
4005|Cable gland M%s|12>MB4;16 short>MB4|B32-15|220|0.02|2|010,030
4006|Screw set M4, %s|pan head>MB4;hex head>MB4|B32-15|300|0.02|6|010,020
4007|Deck plug, %s|2-pin>MB4;3-pin>MB4|B43-15|70|0.1|1|030
4008|Grommet, %s|8 mm>MB4;12 mm>MB4;16 mm>MB4|B32-15|600|0.006|2|030
4009|Masthead lens|>MB4|B43-28|30|0.19|1|020
4010|Masthead name plate|>MB4|CTN-32|400|0.013|1|040
4011|Reflector foil|>MB4|CTN-32|300|0.018|1|020
4012|Spacer tube, %s|20 mm>MB4;30 mm>MB4;45 mm>MB4|B32-15|150|0.035|2|040`},
	{"HORN", `
4101|Horn flare, %s|long>FH3;short>FH3|B64-28|6|1.1|1|010
4102|Diaphragm, %s|brass>FH3;steel>FH3|B43-15|30|0.2|1|020
4103|Compressor head|>FH3|B43-28|5|2.1|1|020
4104|Horn body|>FH3|B64-28|5|2.0|1|010
4105|Coil, %s|12 V>FH3;24 V>FH3|B32-15|16|0.42|1|030
4106|Mounting foot, %s|left>FH3;right>FH3|B64-15|20|0.45|1|040
4107|Pressure hose, %s|short>FH3;long>FH3|T-2415|30|0.2|2|030
4108|Valve block|>FH3|B43-15|14|0.62|1|030
4109|Horn gasket, %s|front>FH3;rear>FH3|B32-15|150|0.02|1|020
4110|Screw set M8, %s|short>FH3;long>FH3|B32-15|60|0.1|4|010,040
4111|Horn grille|>FH3|B64-15|18|0.4|1|040
4112|Silencer felt|>FH3|CTN-43|50|0.05|1|020`},
	{"CABLE", `
4201|Cable reel, %s|2 x 1.5 mm2>RF90,RF160,HB60;3 x 1.5 mm2>SK12,SK20|T-2415|6|2.1|0.02|010
4202|Loom, %s|Reef>RF90,RF160;Harbour>HB60;Skerry>SK12,SK20;mast>MB4|B64-15|40|0.2|1|020
4203|Plug housing, %s|2-way>TD5,MB4;4-way>RF90,RF160;6-way>SK12,SK20|B43-15|200|0.03|1|030
4204|Crimp contact, %s|pin>RF90,RF160,SK12,SK20;socket>RF90,RF160,SK12,SK20|B32-15|1500|0.003|4|030,040
4205|Wire seal, %s|yellow>RF90,RF160;blue>SK12,SK20|B32-15|1200|0.003|4|030
4206|Heat shrink, %s|6 mm>RF90,RF160,HB60;9 mm>SK12,SK20;12 mm>MB4|CTN-43|400|0.012|2|040
4207|Cable tie, %s|100 mm>*;200 mm>*|CTN-32|1000|0.004|3|020,040
4208|Label sleeve, %s|plus>*;minus>*|CTN-32|900|0.004|2|010
4209|Grommet, %s|oval>RF90,RF160;round>SK12,SK20|B32-15|500|0.009|1|020
4210|Ferrule, %s|0.75>RF90,HB60,MB4;1.5>RF160,SK12,SK20|B32-15|1800|0.002|4|030
4211|Test plug|>RF90,RF160,SK12,SK20|B43-15|80|0.09|0.1|040`},
	{"SEAL", `
4301|Sealing compound, %s|grey>RF90,RF160,HB60;black>SK12,SK20|CTN-43|12|0.75|0.04|010
4302|Pressure plug, %s|M5>RF90,RF160;M8>SK12,SK20|B32-15|250|0.025|1|020
4303|Test sticker, %s|passed>*;retest>*|CTN-32|800|0.006|1|030
4304|Desiccant, %s|5 g>TD5,MB4;20 g>RF90,HB60,SK12,SK20|CTN-43|300|0.022|1|010
4305|Vent plug, %s|grey>RF90,RF160,HB60;white>SK12,SK20|B32-15|350|0.014|1|020
4306|Seal wire|>RF90,RF160,SK12,SK20|B32-15|500|0.01|1|040
4307|Lead seal|>RF90,RF160,SK12,SK20|B32-15|700|0.009|1|040
4308|Cap nut, %s|M5>RF90,RF160;M6>SK12,SK20;M4>MB4,TD5|B32-15|600|0.009|4|030,040
4309|Washer, %s|M5 A4>RF90,RF160;M6 A4>SK12,SK20;M4 A4>MB4|B32-15|1500|0.003|4|030
4310|Thread lock, %s|medium>*;strong>*|CTN-32|40|0.09|0.01|020
4311|Inspection card|>*|CTN-43|500|0.01|1|040
4312|Cover strip, %s|long>RF160,SK20;short>RF90,SK12|B64-15|80|0.08|1|010`},
	{"PACK", `
4401|Lantern carton, %s|small>HB60,MB4;medium>RF90,SK12;large>RF160,SK20|CTN-50|20|0.3|1|010
4402|Foam insert, %s|90>RF90;160>RF160;60>HB60;12>SK12;20>SK20|CTN-50|30|0.12|2|020
4403|Leaflet, %s|Reef>RF90,RF160;Harbour>HB60;Skerry>SK12,SK20;Tide>TD5;mast>MB4|CTN-32|250|0.02|1|030
4404|Mounting kit, %s|pole>RF90,RF160;buoy>SK12,SK20;mast>MB4|B43-28|24|0.34|1|030
4405|Warranty card|>*|CTN-32|600|0.008|1|030
4406|Carton label, %s|A>RF90,RF160;B>SK12,SK20;C>HB60,MB4,TD5|CTN-32|900|0.004|2|040
4407|Packing tape, %s|brown>*;printed>*|CTN-43|24|0.38|0.03|040
4408|Pallet corner, %s|inner>RF160,SK20;outer>RF160,SK20|CTN-50|80|0.06|4|050
4409|Spare fuse bag, %s|1 A>RF90,RF160;5 A>SK12,SK20|B32-15|350|0.012|1|020
4410|Hex key, %s|4 mm>RF90,RF160,HB60;5 mm>SK12,SK20|B32-15|220|0.03|1|020
4411|Strap, %s|short>RF160;long>SK20|CTN-43|60|0.1|1|050`},
}
