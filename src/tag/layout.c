/*
 * Keyboard layouts, from memory, and compared key by key with xkeyboard-config (symbols/ of
 * Debian's xkb-data). The rows: digits (13 keys), Q (12), A with the key left of Enter (12), Y with
 * the key right of the left Shift (11). A key without a character of its own with Shift repeats the
 * other.
 */
#include "layout.h"

/* clang-format off */
const struct layout tag_layouts[] = {
	/* United States */
	{{L"`1234567890-=" L"qwertyuiop[]" L"asdfghjkl;'\\" L"\\zxcvbnm,./",
	  L"~!@#$%^&*()_+" L"QWERTYUIOP{}" L"ASDFGHJKL:\"|" L"|ZXCVBNM<>?"}},
	/* Germany, Austria */
	{{L"^1234567890ß´" L"qwertzuiopü+" L"asdfghjklöä#" L"<yxcvbnm,.-",
	  L"°!\"§$%&/()=?`" L"QWERTZUIOPÜ*" L"ASDFGHJKLÖÄ'" L">YXCVBNM;:_"}},
	/* France */
	{{L"²&é\"'(-è_çà)=" L"azertyuiop^$" L"qsdfghjklmù*" L"<wxcvbn,;:!",
	  L"²1234567890°+" L"AZERTYUIOP¨£" L"QSDFGHJKLM%µ" L">WXCVBN?./§"}},
	/* Belgium */
	{{L"²&é\"'(§è!çà)-" L"azertyuiop^$" L"qsdfghjklmùµ" L"<wxcvbn,;:=",
	  L"³1234567890°_" L"AZERTYUIOP¨*" L"QSDFGHJKLM%£" L">WXCVBN?./+"}},
	/* Switzerland, German */
	{{L"§1234567890'^" L"qwertzuiopü¨" L"asdfghjklöä$" L"<yxcvbnm,.-",
	  L"°+\"*ç%&/()=?`" L"QWERTZUIOPè!" L"ASDFGHJKLéà£" L">YXCVBNM;:_"}},
	/* United Kingdom */
	{{L"`1234567890-=" L"qwertyuiop[]" L"asdfghjkl;'#" L"\\zxcvbnm,./",
	  L"¬!\"£$%^&*()_+" L"QWERTYUIOP{}" L"ASDFGHJKL:@~" L"|ZXCVBNM<>?"}},
	/* Italy */
	{{L"\\1234567890'ì" L"qwertyuiopè+" L"asdfghjklòàù" L"<zxcvbnm,.-",
	  L"|!\"£$%&/()=?^" L"QWERTYUIOPé*" L"ASDFGHJKLç°§" L">ZXCVBNM;:_"}},
	/* Spain */
	{{L"º1234567890'¡" L"qwertyuiop`+" L"asdfghjklñ´ç" L"<zxcvbnm,.-",
	  L"ª!\"·$%&/()=?¿" L"QWERTYUIOP^*" L"ASDFGHJKLÑ¨Ç" L">ZXCVBNM;:_"}},
	/* Portugal */
	{{L"\\1234567890'«" L"qwertyuiop+´" L"asdfghjklçº~" L"<zxcvbnm,.-",
	  L"|!\"#$%&/()=?»" L"QWERTYUIOP*`" L"ASDFGHJKLÇª^" L">ZXCVBNM;:_"}},
	/* Sweden, Finland */
	{{L"§1234567890+´" L"qwertyuiopå¨" L"asdfghjklöä'" L"<zxcvbnm,.-",
	  L"½!\"#¤%&/()=?`" L"QWERTYUIOPÅ^" L"ASDFGHJKLÖÄ*" L">ZXCVBNM;:_"}},
	/* Denmark */
	{{L"½1234567890+´" L"qwertyuiopå¨" L"asdfghjklæø'" L"<zxcvbnm,.-",
	  L"§!\"#¤%&/()=?`" L"QWERTYUIOPÅ^" L"ASDFGHJKLÆØ*" L">ZXCVBNM;:_"}},
	/* Norway */
	{{L"|1234567890+\\" L"qwertyuiopå¨" L"asdfghjkløæ'" L"<zxcvbnm,.-",
	  L"§!\"#¤%&/()=?`" L"QWERTYUIOPÅ^" L"ASDFGHJKLØÆ*" L">ZXCVBNM;:_"}},
	/* Turkey, Q */
	{{L"\"1234567890*-" L"qwertyuıopğü" L"asdfghjklşi," L"<zxcvbnmöç.",
	  L"é!'^+%&/()=?_" L"QWERTYUIOPĞÜ" L"ASDFGHJKLŞİ;" L">ZXCVBNMÖÇ:"}},
	/* Russia */
	{{L"ё1234567890-=" L"йцукенгшщзхъ" L"фывапролджэ\\" L"/ячсмитьбю.",
	  L"Ё!\"№;%:?*()_+" L"ЙЦУКЕНГШЩЗХЪ" L"ФЫВАПРОЛДЖЭ/" L"|ЯЧСМИТЬБЮ,"}},
};
/* clang-format on */

const size_t tag_layout_count = sizeof tag_layouts / sizeof tag_layouts[0];
