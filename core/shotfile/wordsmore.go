package shotfile

import "ferrule/core/shot"

// moreHeads are the headers of Italian and Chinese files (simplified and
// traditional), as headerTable has those of the other languages.
var moreHeads = []struct {
	quantity shot.Quantity
	role     string
	it, zh   string
}{
	{"", roleNumber, "n.|numero|colpo|tiro|n. colpo", "序号|序號|编号|編號|球号|击球|擊球|击球编号|杆数"},
	{"", roleTime, "data|ora|data e ora|orario", "日期|时间|時間|日期时间|日期時間|击球时间|擊球時間"},
	{"", roleSession, "sessione|seduta", "场次|場次|练习|課次|课次"},
	{"", rolePlayer, "giocatore|nome|golfista", "球员|球員|姓名|玩家|选手|選手"},
	{"", roleHand, "mano", "惯用手|慣用手"},
	{"", roleClub, "bastone|mazza|tipo di bastone|ferro/legno", "球杆|球桿|杆型|桿型|杆号|桿號|杆|球杆类型|球桿類型"},
	{"", roleBall, "palla|tipo di palla|pallina", "用球|球种|球種|球型|球类型"},
	{"", roleSetting, "impostazione|impostazioni|regolazione|configurazione|assetto", "设置|設置|设定|設定|调节|調節|调整|調整|配置|档位|檔位"},
	{"", roleSleeve, "manicotto|adattatore|bussola", "套管|杆颈套管|接头|接頭"},
	{"", roleWeight, "peso|pesi", "配重|重量|配重块"},
	{"", roleTag, "etichetta|segno", "标签|標籤|标记|標記"},
	{"", roleNote, "nota|note|commento|osservazioni", "备注|備註|注释|註釋"},
	{"", roleQuality, "qualità", "质量|品質"},
	{"", roleSkip, "tipo di colpo|temperatura|pressione|umidità|vento|altitudine|risultato|esito", "球路|弹道|彈道|气温|氣溫|温度|溫度|气压|氣壓|湿度|濕度|风速|風速|风向|風向|海拔|结果|結果"},
	{shot.ClubSpeed, "", "velocità bastone|velocità del bastone|velocità testa|velocità testa bastone|velocità della testa|velocità swing|vel. bastone|vel. testa", "杆头速度|桿頭速度|杆速|桿速|挥杆速度|揮桿速度|球杆速度|球桿速度|杆头速"},
	{shot.BallSpeed, "", "velocità palla|velocità della palla|velocità iniziale|velocità pallina|vel. palla", "球速|初速|球初速|初速度|球速度"},
	{shot.Smash, "", "smash factor|fattore smash|efficienza|fattore di smash", "击球效率|擊球效率|碰撞效率|传速比|傳速比|效率|击球系数|扎实度"},
	{shot.Launch, "", "angolo di lancio|angolo di partenza|angolo di decollo|lancio verticale", "发射角|發射角|起飞角|起飛角|发射角度|發射角度|垂直发射角|击球角度|出球角|起飞角度"},
	{shot.LaunchDirection, "", "direzione di lancio|direzione iniziale|direzione di partenza|angolo orizzontale|lancio orizzontale|?direzione", "发射方向|發射方向|起飞方向|起飛方向|水平发射角|出球方向|水平角|初始方向|方向角"},
	{shot.Backspin, "", "backspin|retrospin|rotazione all'indietro", "后旋|後旋|倒旋|倒旋量|后旋转"},
	{shot.Sidespin, "", "sidespin|spin laterale|effetto laterale", "侧旋|側旋|侧旋量|側旋量"},
	{shot.Spin, "", "spin|spin totale|rotazione|tasso di spin|velocità di rotazione|rotazione totale", "旋转|旋轉|总旋转|總旋轉|旋转率|旋轉率|转速|轉速|自旋|总转速|旋转量|总旋"},
	{shot.SpinAxis, "", "asse di rotazione|asse di spin|asse spin|asse", "旋转轴|旋轉軸|自旋轴|转轴|旋转轴角|轴角|旋轉軸角"},
	{shot.Carry, "", "carry|volo|distanza di volo|distanza carry|portata", "落点距离|落點距離|飞行距离|飛行距離|落地距离|落地距離|空中距离|carry距离|落点"},
	{shot.Total, "", "totale|distanza totale|lunghezza totale|?distanza", "总距离|總距離|总码数|?距离|?距離"},
	{shot.Roll, "", "rotolo|rotolamento|corsa", "滚动距离|滾動距離|滚动|滾動"},
	{shot.Offline, "", "deviazione laterale|scostamento laterale|?deviazione|?laterale|?lato|scarto laterale|fuori linea", "左右偏差|偏移|偏差|侧向偏差|側向偏差|?左右|横向偏差|偏离距离|侧偏|左右距离|左右偏移"},
	{shot.OfflineTotal, "", "deviazione totale|laterale totale", "总偏差|总侧偏|總偏差"},
	{shot.OfflineAngle, "", "angolo di deviazione", "偏差角|偏离角"},
	{shot.Curve, "", "curva|curvatura", "曲线|弯曲|曲線|彎曲|弧度"},
	{shot.Apex, "", "altezza massima|apice|altezza max|?altezza", "最高点|最高點|最大高度|顶点高度|頂點高度|弹道高度|?高度|顶点|峰值高度"},
	{shot.Descent, "", "angolo di discesa|angolo di atterraggio|angolo di caduta", "落地角|下落角|落地角度|降落角|着陆角"},
	{shot.FlightTime, "", "tempo di volo", "滞空时间|滯空時間|飞行时间|飛行時間|留空时间"},
	{shot.Attack, "", "angolo di attacco|angolo d'attacco", "攻击角|攻擊角|击球攻角|攻角|入射角|攻击角度"},
	{shot.Path, "", "percorso bastone|percorso del bastone|traiettoria bastone|?percorso|path", "杆头轨迹|桿頭軌跡|挥杆路径|揮桿路徑|杆头路径|桿頭路徑|球杆路径|?路径"},
	{shot.Face, "", "angolo della faccia|angolo faccia|faccia|faccia al bersaglio", "杆面角|桿面角|杆面角度|桿面角度|杆面朝向|面角"},
	{shot.FaceToPath, "", "faccia-percorso|faccia/percorso|faccia rispetto al percorso", "杆面对路径|桿面對路徑|面对路径|杆面与路径|面路角"},
	{shot.DynamicLoft, "", "loft dinamico", "动态杆面倾角|動態桿面傾角|动态仰角|动态倾角|動態仰角"},
	{shot.SpinLoft, "", "spin loft|loft di spin", "旋转倾角|旋转仰角|旋轉仰角"},
	{shot.StrikeToe, "", "impatto orizzontale|punto d'impatto orizzontale", "击球点左右|水平击球点|擊球點左右"},
	{shot.StrikeHigh, "", "impatto verticale|punto d'impatto verticale", "击球点上下|垂直击球点|擊球點上下"},
}
