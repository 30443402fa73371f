package shotfile

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"ferrule/core/shot"
	"ferrule/core/typed"
)

// The roles of columns that are no quantity.
const (
	roleSetting = "setting"
	roleSleeve  = "sleeve"
	roleWeight  = "weight"
	roleBall    = "ball"
	roleClub    = "club"
	rolePlayer  = "player"
	roleTime    = "time"
	roleSession = "session"
	roleNumber  = "number"
	roleTag     = "tag"
	roleNote    = "note"
	roleID      = "id"
	roleQuality = "quality"
	roleSide    = "side"    // says right or left for the numbers of another column
	roleSkip    = "skip"    // known and of no use here: weather, shot names
	roleHand    = "hand"    // of the player
	roleAssumed = "assumed" // our own export: values that the device estimated
	roleSource  = "source"  // our own export: the file that a shot came from
	roleLine    = "line"    // our own export: the line in that file
)

// meaning is what a header says: a quantity or a role.
type meaning struct {
	quantity shot.Quantity
	role     string
	lang     string // "" when several languages write it so
	weak     bool   // the word has other meanings too
}

// headerTable lists how columns are headed, language by language, entries
// separated by '|'. A leading '?' marks a word with other meanings. Spellings
// are the trade's, from memory and from public files; common practice, no source.
var headerTable = []struct {
	quantity shot.Quantity
	role     string
	words    [7]string // en es de fr sv ja ko
}{
	{"", roleNumber, [7]string{
		"No|#|Shot|Shot #|Shot No|Shot Number|Index|ID|Stroke|Nr|Order|Swing|Swing #|Ball No|Ball #", "n.º|nº|golpe|tiro|golpe n", "Nr.|Schlag|Schlag Nr|Schlagnummer",
		"n°|coup|numéro", "slag|slag nr|slagnr", "番号|打数|ショット|ショット番号", "번호|샷|샷번호"}},
	{"", roleTime, [7]string{
		"Date|Timestamp|Date/Time|Datetime|Date Time|Clock|Time of day|Shot Time|?Time|Created|Created At", "fecha|hora|fecha y hora", "Datum|Zeit|Uhrzeit|Zeitstempel|Datum/Zeit", "date|heure|date/heure",
		"datum|tid|?tid", "日付|日時|時刻", "날짜|시간|일시"}},
	{"", roleSession, [7]string{"Session|Session Date|Session Name|Round|Group|Day", "sesión", "Sitzung|Einheit", "séance|session", "pass", "セッション", "세션"}},
	{"", rolePlayer, [7]string{"Player|Golfer|Name|Player Name|User", "jugador|nombre", "Spieler|Spielername", "joueur|nom", "spelare|namn", "氏名|プレーヤー|プレイヤー", "선수|이름|플레이어"}},
	{"", roleHand, [7]string{"Hand|Handedness|Dexterity", "mano", "Händigkeit", "main", "", "利き手", "손"}},
	{"", roleClub, [7]string{"Club|Club Name|Club Type|Club Description|Club Used|Clubs", "palo", "Schläger|Schlägertyp", "club", "klubba", "クラブ|番手", "클럽|클럽명"}},
	{"", roleBall, [7]string{"Ball|Ball Type|Ball Name|Ball Model", "bola|tipo de bola|pelota", "Ball|Balltyp|Ballart", "balle|type de balle", "boll|bolltyp", "ボール|球種", "볼|공|볼종류"}},
	{"", roleSetting, [7]string{"Setting|Settings|Adjustment|Setup|Configuration|Club Setting|Head Setting|Driver Setting", "ajuste|configuración", "Einstellung", "réglage", "inställning", "ポジション|調整|セッティング", "세팅|설정"}},
	{"", roleSleeve, [7]string{"Sleeve|Hosel|Loft Setting|Sleeve Setting|Hosel Setting|Adapter|Loft Sleeve|Sleeve Position", "manguito|adaptador", "Hülse|Adapter", "manchon|adaptateur", "hylsa", "スリーブ", "슬리브"}},
	{"", roleWeight, [7]string{"Weight|Weights|Weight Position|Weight Setting|Slider", "peso|pesa", "Gewicht|Gewichte", "poids|masse", "vikt|vikter", "ウェイト|ウエイト", "무게추|웨이트"}},
	{"", roleTag, [7]string{"Tag|Tags|Label|Flag|Mark", "etiqueta", "Markierung", "étiquette", "etikett|märke", "タグ", "태그"}},
	{"", roleNote, [7]string{"Note|Notes|Comment|Comments|Remark", "nota|notas|comentario", "Notiz|Bemerkung|Kommentar|Anmerkung", "note|remarque|commentaire", "anteckning|kommentar", "メモ|備考|コメント", "메모|비고"}},
	{"", roleQuality, [7]string{"Spin Rate Type|Spin Reading|Valid|Quality|Spin Type|Spin Source|Measured", "calidad", "Qualität", "qualité", "kvalitet", "", "품질"}},
	{"", roleSkip, [7]string{
		"Shot Type|Shot Classification|Shape|Shot Shape|Shot Name|Temperature|Air Pressure|Pressure|Relative Humidity|Humidity|Air Density|Wind Speed|Wind Direction|Altitude|Elevation|Smash Rating|Swing Plane|Swing Direction|Low Point|Low Point Distance|Dynamic Lie|Lie Angle|Lie|Face Loft|Tempo|Source File|Brand|Model|Club Brand|Club Model|Score|Loft",
		"tipo de golpe|temperatura|presión|humedad|viento|altitud", "Schlagart|Temperatur|Luftdruck|Feuchte|Luftfeuchte|Wind|Windgeschwindigkeit", "type de coup|température|pression|humidité|vent|altitude",
		"slagtyp|temperatur|lufttryck|fukt|vind", "球筋|弾道|気温|気圧|湿度|風速|風向|標高", "구질|탄도|기온|기압|습도|풍속|풍향|고도"}},

	{shot.ClubSpeed, "", [7]string{
		"Club Speed|Club Head Speed|Clubhead Speed|Head Speed|Swing Speed|CHS|HS|Clubspeed Impact|Club Velocity", "velocidad de palo|velocidad del palo|velocidad cabeza del palo|velocidad de la cabeza del palo|velocidad de cabeza|velocidad de swing|vel. palo|vel. cabeza",
		"Schlägerkopfgeschwindigkeit|Schlägergeschwindigkeit|Schwunggeschwindigkeit|Kopfgeschwindigkeit|Schlägerkopfgeschw|Schlägergeschw", "vitesse de club|vitesse du club|vitesse tête de club|vitesse de la tête de club|vitesse de swing|vitesse club|vitesse de tête",
		"klubbhastighet|klubbhuvudhastighet|svinghastighet", "ヘッドスピード|クラブスピード|H/S", "헤드스피드|클럽스피드|클럽 속도|스윙스피드|클럽헤드 스피드"}},
	{shot.BallSpeed, "", [7]string{
		"Ball Speed|Velocity|Ball Velocity|BS|Initial Ball Speed|Initial Velocity|Ball Spd", "velocidad de la bola|velocidad de bola|velocidad bola|velocidad de la pelota|velocidad inicial|vel. bola|vel. de bola", "Ballgeschwindigkeit|Ballgeschw|Ballgeschw.",
		"vitesse de balle|vitesse balle|vitesse de la balle", "bollhastighet|bollfart|bollhast.", "ボール初速|初速|ボールスピード|B/S", "볼스피드|볼 속도|볼속도|공 속도|초속"}},
	{shot.Smash, "", [7]string{
		"Smash|Smash Factor|Efficiency|PTI|Power Transfer Index|SF|Smash Fac", "factor de smash|factor smash|eficiencia|factor de impacto", "Smash Faktor|Smash-Faktor|Effizienz|Effektivität", "smash factor|facteur smash|rendement|efficacité|facteur de smash",
		"smash factor|smashfaktor|träffkvalitet", "ミート率|スマッシュファクター", "스매시팩터|스매쉬팩터|정타율|스매시 팩터"}},
	{shot.Launch, "", [7]string{
		"Launch Angle|?Launch|Vertical Launch|Vertical Launch Angle|Launch V|Launch Vertical|VLA|Launch Angle V|Vert Launch|Launch Ang|V Launch|LA", "ángulo de lanzamiento|ángulo de salida|ángulo vertical", "Abflugwinkel|Abschlagwinkel|Startwinkel|vertikaler Abflugwinkel",
		"angle de lancement|angle de décollage|angle d'envol|angle de départ", "utgångsvinkel|startvinkel|launch-vinkel", "打ち出し角|打出角|打ち出し角度|打出し角|上下打ち出し角|打ち出し角(上下)|打出角度", "발사각|런치앵글|런치 앵글|탄도각|발사 각도"}},
	{shot.LaunchDirection, "", [7]string{
		"Launch Direction|Horizontal Launch|Horizontal Launch Angle|Launch H|Launch Horizontal|HLA|Azimuth|Launch Azimuth|Side Angle|Start Angle|?Direction|Start Line|Start Direction|Push/Pull|Launch Dir|Dir|Horiz Launch|H Launch|Launch Angle H|Initial Direction|Horizontal Angle",
		"dirección de salida|dirección de lanzamiento|dirección inicial|ángulo horizontal|?dirección", "Startrichtung|Abflugrichtung|Abschlagrichtung|horizontaler Abflugwinkel", "direction de départ|direction de lancement|direction initiale",
		"startriktning|utgångsriktning|?riktning", "打ち出し方向|左右打ち出し角|打出方向|左右打ち出し|打ち出し方向角|打ち出し角(左右)", "방향각|런치디렉션|좌우각|런치 디렉션|출발 방향|발사 방향|좌우 발사각"}},
	{shot.Backspin, "", [7]string{
		"Backspin|Back Spin|Bkspin|Back-Spin|B Spin|Backspin Rate|Back Spin Rate", "retroceso|efecto retroceso|backspin", "Rückwärtsdrall|Backspin|Rückwärtsspin|Rückdrall", "rétro|backspin|rétro spin|effet rétro", "backspin|bakspinn|backspinn",
		"バックスピン|バックスピン量", "백스핀|백스핀량|백 스핀"}},
	{shot.Sidespin, "", [7]string{
		"Sidespin|Side Spin|S Spin|Side-Spin|Sidespin Rate|Side Spin Rate", "efecto lateral|spin lateral", "Seitwärtsdrall|Sidespin|Seitenspin|Seitendrall", "effet latéral|spin latéral", "sidospinn|sidospin", "サイドスピン|サイドスピン量", "사이드스핀|사이드스핀량|사이드 스핀"}},
	{shot.Spin, "", [7]string{
		"Spin|Spin Rate|Total Spin|Spin Total|Rpm Total|Total Spin Rate|Spinrate", "spin|índice de giro|giro|spin total|tasa de spin|tasa de giro", "Spinrate|Drehzahl|Spin|Gesamtspin|Gesamtdrall", "taux de spin|spin|taux de rotation|spin total", "spinn|spin|totalspinn|spinnhastighet|spinnrate",
		"スピン量|総スピン|スピン|トータルスピン|総スピン量", "스핀량|토털 스핀|스핀양|토탈 스핀|스핀|총스핀|총 스핀량"}},
	{shot.SpinAxis, "", [7]string{
		"Spin Axis|?Axis|?Tilt|Spin Tilt Axis|Spin Tilt|Spin Axis Angle|Axis Tilt|Spin Axis Tilt|Tilt Axis", "eje de giro|eje de spin|eje", "Spinachse|Drehachse|Drallachse", "axe de rotation|axe de spin|axe", "spinnaxel|spinaxel|rotationsaxel",
		"スピン軸|回転軸|スピンアクシス|スピン軸角", "스핀축|스핀 축|스핀액시스|회전축"}},
	{shot.Carry, "", [7]string{
		"Carry|Carry Distance|Carry Flat Length|Carry Flat|Flat Carry|Carry Length|Carry Dist|?Flight|Carry Dist.", "carry|vuelo|distancia de vuelo|distancia carry", "Carry|Fluglänge|Flugweite|Tragweite|Carry Länge|Carrylänge|Flugdistanz|Carry Distanz", "carry|portée|distance carry|distance de vol|longueur carry",
		"carry|bärlängd|carrylängd", "キャリー|キャリー距離", "캐리|캐리 거리|캐리거리"}},
	{shot.Total, "", [7]string{
		"Total|Total Distance|Est Total Flat Length|Total Length|Total Flat|?Distance|Total Dist|?Dist", "total|distancia total|?distancia", "Gesamt|Gesamtlänge|Gesamtweite|Gesamtdistanz|Total|?Distanz|?Weite", "total|distance totale|longueur totale|?distance", "total|totallängd|total längd|total distans",
		"トータル|総飛距離|?飛距離|トータル距離|?距離", "토탈|총거리|?비거리|토탈 거리|총 거리|?거리"}},
	{shot.Roll, "", [7]string{"Roll|Run|Rollout|Roll Distance|Run Out|Roll Out", "rodada|rodaje", "Roll|Ausroll|Auslauf|Rolllänge|Ausrollen", "roule|roulement", "rull|utrull", "ラン", "런|구름|굴러간 거리|런 거리|구름 거리"}},
	{shot.Offline, "", [7]string{
		"?Side|Offline|?Lateral|Carry Lateral Distance|Carry Deviation Distance|Carry Flat Side|Side Carry|Carry Side|?Deviation|?Dispersion|Carry Offline|Offline Carry|Offline Distance|Lateral Distance|Deviation Distance|Left/Right|L/R|Side Distance|Lateral Carry|Carry Deviation|Off Line|Side Dist|Off-line",
		"?lateral|?desviación|desviación lateral|distancia lateral|fuera de línea", "?Seite|Seitenabweichung|?Abweichung|seitliche Abweichung|Seitliche Abw|?seitlich", "?écart|?latéral|?déviation|écart latéral|déviation latérale", "?sida|?sidled|?avvikelse|sidavvikelse|sidledes avvikelse|avvikelse i sidled",
		"左右ブレ|?サイド|?左右|左右差|左右ズレ|横ブレ|左右のズレ|左右のブレ", "좌우편차|?사이드|?편차|좌우 편차|좌우거리|좌우 거리|좌우"}},
	{shot.OfflineTotal, "", [7]string{"Side Total|Total Side|Offline Total|Total Offline|Lateral Total|Total Lateral|Est Total Flat Side|Total Deviation Distance|Total Lateral Distance|Total Deviation", "lateral total|desviación total", "Seite gesamt|Gesamtabweichung|Seite total", "écart total|latéral total", "sida total", "トータル左右|左右ブレ(トータル)", "총 좌우편차|토탈 좌우편차|토탈 편차"}},
	{shot.OfflineAngle, "", [7]string{"Deviation Angle|Offline Angle|Carry Deviation Angle|Lateral Angle", "ángulo de desviación", "Abweichungswinkel", "angle de déviation", "avvikelsevinkel", "ブレ角|偏角", "편차각"}},
	{shot.Curve, "", [7]string{"Curve|Carry Curve Distance|Curvature|Hook/Slice|Curve Distance|Carry Curve|Draw/Fade", "curva|curvatura", "Kurve|Krümmung", "courbe|?effet|courbure", "skruv|kurva", "曲がり|曲がり幅|カーブ|曲り幅", "휨|커브|휘어짐"}},
	{shot.Apex, "", [7]string{"Apex|Apex Height|Peak Height|Max Height|Max Height Height|?Height|Max Ht|Peak|Maximum Height|Peak Ht|Hmax|Ball Height", "?altura|altura máxima|ápice|altura max", "?Höhe|Gipfelhöhe|Scheitelhöhe|max. Höhe|maximale Höhe|Max Höhe|Flughöhe", "?hauteur|hauteur max|apex|flèche|hauteur maximale|hauteur maxi",
		"?höjd|maxhöjd|apex|max höjd|topphöjd|högsta höjd", "最高到達点|?高さ|最高点|最高到達高さ|頂点", "최고높이|탄도높이|최고점|최고 높이|정점|최대높이|최대 높이"}},
	{shot.Descent, "", [7]string{"Descent|Descent Angle|Land Angle|Landing Angle|Carry Flat Land Angle|AoD|Angle of Descent|Land Ang|Desc Angle", "ángulo de descenso|ángulo de caída|ángulo de aterrizaje", "Landewinkel|Landungswinkel|Einfallswinkel|Aufprallwinkel|Fallwinkel", "angle de descente|angle d'atterrissage|angle de chute",
		"landningsvinkel|nedslagsvinkel", "落下角|ランディングアングル|落下角度|着地角", "낙하각|랜딩앵글|낙하 각도|랜딩 앵글|착지각"}},
	{shot.FlightTime, "", [7]string{"Hang Time|Flight Time|Carry Flat Time|Air Time|Airtime|Carry Time|Time of Flight", "tiempo de vuelo|tiempo en el aire", "Flugzeit|Flugdauer", "temps de vol|durée de vol", "flygtid|luftfärd|luftid", "滞空時間|飛行時間", "체공시간|비행시간|체공 시간"}},
	{shot.Attack, "", [7]string{"Attack Angle|Angle of Attack|AoA|Attack|Att Ang|Attack Ang|Vertical Attack Angle", "ángulo de ataque", "Angriffswinkel|Eintreffwinkel (vertikal)|vertikaler Eintreffwinkel|Eintreffwinkel", "angle d'attaque", "attackvinkel|anfallsvinkel|träffvinkel", "入射角|アタックアングル|ブロー角|アタック角", "어택앵글|입사각|어택 앵글|공격각"}},
	{shot.Path, "", [7]string{"Club Path|?Path|Swing Path|Path Angle|Club Path Angle|Horizontal Path", "?trayectoria|camino del palo|trayectoria del palo|recorrido del palo", "Schwungbahn|Schlägerweg|seitlicher Eintreffwinkel|Schlägerbahn|Schwungpfad", "chemin de club|chemin|chemin du club", "svingbana|klubbväg|klubbana", "クラブパス|ヘッド軌道|?軌道|スイングパス|スイング軌道|クラブ軌道", "클럽패스|?궤도|클럽 패스|스윙궤도|스윙 패스|클럽 궤도"}},
	{shot.Face, "", [7]string{"Face Angle|Club Face|Face to Target|Face Target|?Face|Clubface|Clubface Angle|Face Ang|Face Angle to Target", "?cara|ángulo de la cara|cara del palo|ángulo de cara", "Schlagflächenstellung|Schlägerblattstellung|Schlagflächenwinkel|Schlagfläche|Face Winkel", "angle de la face|angle de face|?face|face du club", "klubbladsvinkel|bladvinkel|bladets vinkel|klubblad", "フェース角|フェースアングル|フェース向き|フェイス角|フェイスアングル|フェース角度", "페이스앵글|페이스각|페이스 앵글|페이스 각도"}},
	{shot.FaceToPath, "", [7]string{"Face to Path|Face Path|FTP|F2P|Face/Path", "cara-trayectoria|cara a trayectoria|cara/trayectoria|cara respecto a trayectoria", "Schlagfläche zur Bahn|Schlagfläche/Bahn", "face/chemin|face chemin|face au chemin|face par rapport au chemin", "blad mot bana|blad till bana", "フェーストゥパス|対軌道フェース角|フェース to パス|フェースとパス", "페이스투패스|페이스 투 패스"}},
	{shot.DynamicLoft, "", [7]string{"Dynamic Loft|Dyn Loft|Delivered Loft|Impact Loft", "loft dinámico", "dynamischer Loft", "loft dynamique", "dynamiskt loft", "ダイナミックロフト|インパクトロフト", "다이나믹로프트|다이나믹 로프트|동적 로프트|다이내믹로프트"}},
	{shot.SpinLoft, "", [7]string{"Spin Loft", "spin loft|loft de spin", "Spinloft", "spin loft|loft de spin", "spinloft", "スピンロフト", "스핀로프트|스핀 로프트"}},
	{shot.StrikeToe, "", [7]string{"Impact Offset|impact w|impact x|Horizontal Face Impact|Strike Toe|Strike X|Strike Horizontal|Impact Horizontal|Face Impact Horizontal|Horizontal Impact|Toe/Heel|Strike Offset|Impact Toe|Impact Lateral", "impacto horizontal", "Treffpunkt horizontal|Treffpunkt quer", "point d'impact horizontal|impact horizontal", "träffpunkt horisontell", "打点左右|左右打点|打点位置左右", "타점 좌우|좌우 타점"}},
	{shot.StrikeHigh, "", [7]string{"Impact Height|impact y|impact h|Vertical Face Impact|Strike High|Strike Y|Strike Vertical|Impact Vertical|Face Impact Vertical|Vertical Impact|High/Low|Strike Height", "impacto vertical", "Treffpunkt vertikal|Treffpunkt hoch", "point d'impact vertical|impact vertical", "träffpunkt vertikal", "打点上下|上下打点|打点位置上下", "타점 상하|상하 타점"}},
}

var languages = [9]string{"en", "es", "de", "fr", "sv", "ja", "ko", "it", "zh"}

// headers maps a squeezed header to its meanings, the strongest first.
var headers = func() map[string][]meaning {
	m := map[string][]meaning{}
	put := func(key string, x meaning) {
		for i, y := range m[key] {
			if y.quantity == x.quantity && y.role == x.role {
				if y.lang != x.lang {
					m[key][i].lang = ""
				}
				return
			}
		}
		if len(m[key]) > 0 && !x.weak && m[key][0].weak {
			m[key] = append([]meaning{x}, m[key]...)
			return
		}
		m[key] = append(m[key], x)
	}
	for _, k := range shot.Kinds {
		if k.Quantity != shot.FlightTime {
			put(squeeze(string(k.Quantity)), meaning{quantity: k.Quantity, lang: "en"})
		}
	}
	for _, e := range headerTable {
		for i, words := range e.words {
			for _, w := range strings.Split(words, "|") {
				if w == "" {
					continue
				}
				weak := strings.HasPrefix(w, "?")
				w = strings.TrimPrefix(w, "?")
				put(squeeze(w), meaning{e.quantity, e.role, languages[i], weak})
			}
		}
	}
	put("assumed", meaning{role: roleAssumed})
	put("source", meaning{role: roleSource})
	put("line", meaning{role: roleLine})
	for _, e := range moreHeads {
		for i, words := range [2]string{e.it, e.zh} {
			for _, w := range strings.Split(words, "|") {
				if w != "" {
					put(squeeze(strings.TrimPrefix(w, "?")), meaning{e.quantity, e.role, languages[7+i], strings.HasPrefix(w, "?")})
				}
			}
		}
	}
	for i := range 6 { // "Weight 2": a second weight
		for _, w := range []string{"weight", "gewicht", "peso", "poids", "vikt"} {
			put(squeeze(w+" "+string(rune('1'+i))), meaning{role: roleWeight})
		}
	}
	put("shotid", meaning{role: roleID})
	for _, k := range shot.Kinds { // our own titles, where the table says nothing of them
		if key := squeeze(k.Title); len(m[key]) == 0 {
			put(key, meaning{quantity: k.Quantity, lang: "en"})
		}
	}
	return m
}()

// plain is a rune without its accent.
var plain = map[rune]string{'á': "a", 'à': "a", 'â': "a", 'ä': "a", 'å': "a", 'é': "e", 'è': "e", 'ê': "e", 'ë': "e",
	'í': "i", 'ì': "i", 'î': "i", 'ï': "i", 'ó': "o", 'ò': "o", 'ô': "o", 'ö': "o", 'ú': "u", 'ù': "u", 'û': "u", 'ü': "u", 'ñ': "n", 'ç': "c", 'ß': "ss", 'œ': "oe"}

// squeeze reduces a header to what is compared: lower case, no spaces, no
// punctuation, no accents. One pass: every cell above the first shot is looked up.
func squeeze(s string) string {
	b := make([]byte, 0, 64)
	for _, r := range typed.Fold(s) {
		switch r {
		case ' ', '_', '.', '-', '/', '(', ')', '[', ']', '{', '}', ':', ',', ';', '\'', '"', '*', '·', '・', '°', '\t', '|', '=', '\n', '\r':
			continue
		}
		if r < utf8.RuneSelf {
			if r >= 'A' && r <= 'Z' {
				r += 'a' - 'A'
			}
			b = append(b, byte(r))
			continue
		}
		r = unicode.ToLower(r)
		if p, ok := plain[r]; ok {
			b = append(b, p...)
		} else {
			b = utf8.AppendRune(b, r)
		}
	}
	return string(b)
}

// summaryWords head the rows that are no shots, squeezed.
var summaryWords = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Split("average|averages|avg|mean|median|std dev|stddev|standard deviation|stdev|st dev|std|sd|std.|dev|deviation|min|max|minimum|maximum|total|totals|sum|consistency|range|best|count|variance|tour average|session average|group average|all shots|"+
		"promedio|promedios|media|medias|mediana|desv|desv.|desv. est.|desviación|desviación estándar|desv est|desviación típica|mín|máx|mínimo|máximo|"+
		"durchschnitt|mittelwert|standardabw|standardabw.|standardabweichung|schnitt|mittel|stabw|abweichung|summe|streuung|ø|"+
		"moyenne|moyennes|écart type|écart-type|médiane|moy|moy.|"+
		"medel|medelvärde|standardavvikelse|genomsnitt|snitt|std.avv|"+
		"media|deviazione standard|dev std|massimo|minimo|scarto|totale|平均值|标准差|標準差|最大值|最小值|中位数|合计|平均數|"+
		"平均|平均値|標準偏差|最大|最小|最大値|最小値|合計|中央値|"+
		"평균|표준편차|최대|최소|합계|최댓값|최솟값|중앙값", "|") {
		m[squeeze(w)] = true
	}
	return m
}()

// meanWords are those that name nothing else: no session and no setting.
var meanWords = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Split("average|averages|avg|mean|std dev|stddev|standard deviation|promedio|desviación estándar|durchschnitt|mittelwert|standardabweichung|ø|moyenne|moy.|écart type|medelvärde|genomsnitt|standardavvikelse|deviazione standard|平均值|标准差|標準差|平均|平均値|標準偏差|평균|표준편차", "|") {
		m[squeeze(w)] = true
	}
	return m
}()

// tagWords maps what people and files write to a shot's tag.
var tagWords = map[string]shot.Tag{
	"mishit": shot.TagMishit, "miss": shot.TagMishit, "mis": shot.TagMishit, "bad": shot.TagMishit,
	"toe": shot.TagToe, "heel": shot.TagHeel, "high": shot.TagHigh, "low": shot.TagLow,
	"good": shot.TagGood, "ok": shot.TagGood, "out": shot.TagOut, "exclude": shot.TagOut, "excluded": shot.TagOut,
	"warmup": shot.TagWarmup, "warm": shot.TagWarmup,
}
