package text

// Said are the words in which a ball is said, for core/spoken: a meaning, then its
// words. Only the analysis reads them, so they are no part of a catalogue, which the
// page carries. Capitals and accents make no difference. The words of sides and units
// are common speech, no source.
func Said(l Language) string {
	switch l {
	case "de":
		return "0 null|1 eins ein eine|2 zwei zwo|3 drei|4 vier|5 fünf|6 sechs|7 sieben|8 acht|9 neun|10 zehn|11 elf|12 zwölf|13 dreizehn|14 vierzehn|15 fünfzehn|" +
			"16 sechzehn|17 siebzehn|18 achtzehn|19 neunzehn|20 zwanzig|30 dreißig|40 vierzig|50 fünfzig|60 sechzig|70 siebzig|80 achtzig|90 neunzig|" +
			"x100 hundert|. Komma Punkt|& und|L links|R rechts|C gerade geradeaus mitte|yd Yard Yards|m Meter|- nach Carry"
	case "es":
		return "0 cero|1 uno un una|2 dos|3 tres|4 cuatro|5 cinco|6 seis|7 siete|8 ocho|9 nueve|10 diez|11 once|12 doce|13 trece|14 catorce|15 quince|16 dieciséis|" +
			"17 diecisiete|18 dieciocho|19 diecinueve|20 veinte veinti|30 treinta|40 cuarenta|50 cincuenta|60 sesenta|70 setenta|80 ochenta|90 noventa|" +
			"100 cien ciento|200 doscientos doscientas|300 trescientos trescientas|400 cuatrocientos cuatrocientas|500 quinientos quinientas|. coma punto|+ y|" +
			"L izquierda|R derecha|C recto recta centro|yd yarda yardas|m metro metros|- a la carry"
	case "ja":
		return "0 〇 零 ゼロ|1 一|2 二|3 三|4 四|5 五|6 六|7 七|8 八|9 九|x10 十|x100 百|. 点|L 左 左に 左へ|R 右 右に 右へ|" +
			"C まっすぐ 真っ直ぐ 真っすぐ 真ん中 中央|yd ヤード|m メートル|- キャリー"
	case "ko":
		return "0 영 공|1 일 하나 한|2 이 둘 두|3 삼 셋 세|4 사 넷 네|5 오 다섯|6 육 륙 여섯|7 칠 일곱|8 팔 여덟|9 구 아홉|x10 십 열|" +
			"20 스물 스무|30 서른|40 마흔|50 쉰|60 예순|70 일흔|80 여든|90 아흔|x100 백|. 점|L 왼쪽 왼쪽으로 좌측 좌측으로|" +
			"R 오른쪽 오른쪽으로 우측 우측으로|C 똑바로 가운데 중앙|yd 야드|m 미터|- 캐리"
	case "en", "":
		return "0 zero oh o|1 one|2 two|3 three|4 four|5 five|6 six|7 seven|8 eight|9 nine|10 ten|11 eleven|12 twelve|13 thirteen|14 fourteen|15 fifteen|16 sixteen|" +
			"17 seventeen|18 eighteen|19 nineteen|20 twenty|30 thirty|40 forty|50 fifty|60 sixty|70 seventy|80 eighty|90 ninety|x100 hundred|. point dot|+ and|" +
			"L left|R right|C straight centre center|yd yard yards|m metre metres meter meters|- a carry"
	}
	return ""
}
