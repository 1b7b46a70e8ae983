"""Texts that somebody could plant in a record, by what they would break if a page took them for more than text.

All of them together fit one text of a record: each field of each kind then holds every one.
"""

from __future__ import annotations

#: What an author could type without meaning it.
TYPED = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "**bold** _under_ `code`",
    "[link](javascript:alert(1))",
    "![x](http://example.invalid/x.png)",
    "{{ page.title }} {% for x in y %}",
    "{: onclick=alert(1) }",
    "| a | b |",
    "# heading",
    "1. list",
    "- item",
    "+ item",
    "&lt;b&gt; &amp;",
    '"> <b onmouseover="x',
    "--> <!-- ",
    "</p></div></td></table>",
]
HTML = [
    "<style>body{display:none}</style>",
    "<style>@import '//example.invalid/a.css'</style>",
    "<style>*{position:fixed;width:9999px}</style>",
    "<iframe src=javascript:alert(1)></iframe>",
    "<iframe srcdoc='<script>alert(1)</script>'>",
    "<link rel=stylesheet href=//example.invalid>",
    "<base href=//example.invalid/>",
    "<meta http-equiv=refresh content=0;url=//example.invalid>",
    "<object data=x><embed src=x>",
    "<form action=//example.invalid><input autofocus onfocus=alert(1)>",
    "<details open ontoggle=alert(1)>",
    "<video src=x onerror=alert(1)><source src=x>",
    "<marquee onstart=alert(1)>x</marquee>",
    "<template><script>alert(1)</script></template>",
    "<noscript><p title='</noscript><img src=x onerror=alert(1)>'>",
    "<plaintext><xmp><listing>",
    "</body></html><body onload=alert(1)>",
    "<scr<script>ipt>alert(1)</scr</script>ipt>",
    "<<b>script>alert(1)//<</b>/script>",
    "<a href=data:text/html,x>y</a>",
    "<a id=__config name=__md_scope>x</a>",
    "<dialog open>x</dialog><div popover>",
    "<?php x ?> <![CDATA[ x ]]> ]]>",
    "<script\u00a0src=x> <\u017fcript> \uff1cscript\uff1e",
    "&#60;script&#62; &lt;script&gt; &colon; \\x3cscript\\x3e",
    "&#x3c;img src=x onerror=alert(1)&#x3e",
    "&lt;svg onload=alert(1)&gt;",
    "&ampnbsp; &nbsp &shy; &#0; &#x202e; &#8238;",
]
ATTRIBUTES = [
    '" onmouseover="alert(1)" x="',
    "' onfocus='alert(1)' autofocus='",
    "` onclick=`alert(1)` ",
    '"><script>alert(1)</script><a b="',
    "' ><img src=x onerror=alert(1)>",
    'x" style="position:fixed;inset:0" y="',
    'x" class="md-search" id="__search" y="',
    "=x onload=alert(1) /",
    '\\" onclick=alert(1)//',
]
MARKDOWN = [
    "[x](data:text/html;base64,PHg+) <javascript:alert(1)> <vbscript:x>",
    "[a]: javascript:alert(1)",
    "[a][a] [^1] *[HTML]: x",
    "![a](x\"onerror='alert(1)')",
    "[x](//example.invalid 'a\" onclick=alert(1)')",
    "<https://example.invalid/> <a@example.invalid>",
    "``` ~~~ \t``` $$x$$ ==x== ++x++ ^x^ ~x~",
    "!!! note ??? note === tab :smile: --8<-- x",
    "{: onclick=alert(1) .x #y style=color:red }",
    "{ .x onmouseover=alert(1) }",
    "[TOC] [x]{onclick=alert(1)} [[wiki]]",
    "=== --- *** ___ > quote",
    "a\\*b\\_c\\<i\\> \\[x\\](y)",
    "|:-|-:| <td colspan=9>",
    "klzzwxh:0 wzxhzdk:1 klzzwxh:amp",
    ": definition ~sub~ [ ] [x] task",
]
TEMPLATES = [
    "{% raw %} {{ 7*7 }} {# x #} {%- endraw %} ${7*7} #{7*7}",
    "{{ ''.__class__.__mro__ }}",
    "{% include 'x' %}{% extends 'x' %}",
    "{{ config.items() }} {{ self }}",
    "{# comment #} {#- x -#}",
    "{% endblock %}{% endfor %}{% endif %}",
    "%(x)s %s {0} {x!r} $x ${x}",
    "<!--handbook-0--> <!-- x",
    "<!--[if IE]><script>alert(1)</script><![endif]-->",
    "<!-- {{ x }} --!> <!--> <!---> -->",
]
ADDRESSES = [
    "javascript:alert(1)",
    "JaVaScRiPt://%0aalert(1)",
    "java&#9;script:alert(1)",
    "data:text/html,<script>alert(1)</script>",
    "vbscript:msgbox(1) blob:x",
    "../../../../etc/passwd file:///etc/passwd \\\\host\\share %2e%2e%2f",
    "//example.invalid/x https://example.invalid/?a=<b>&c='",
    "mailto:a@example.invalid?body=<b> tel:+1;ext=x",
    "https://a:b@example.invalid:99999/%00%0d%0a",
]
SVG = [
    "<svg/onload=alert(1)>",
    "<svg><script>alert(1)</script></svg>",
    "<svg><a href=javascript:alert(1)><text>x</text></a></svg>",
    "<svg><foreignObject><body onload=alert(1)>",
    "<svg><animate onbegin=alert(1) attributeName=x>",
    "</title></svg><script>alert(1)</script>",
    "<math><mi xlink:href=javascript:alert(1)>x",
    "<svg><style><img src=x onerror=alert(1)></style>",
    "<image href=x onerror=alert(1)><use href=//example.invalid#x>",
]
#: Each begins as a formula or a command of a spreadsheet does.
SPREADSHEET = [
    "=HYPERLINK(1) @x +1 -1",
    "=1+1",
    "=cmd|'/C calc'!A0",
    "+1+1",
    "-1+1",
    "-2+3+cmd|' /C calc'!A0",
    "@SUM(1+1)",
    '=HYPERLINK("//example.invalid","x")',
    "=IMPORTXML(1;2)",
    '"=1+1" ;=1+1 ,=1+1',
]
#: Direction by letters alone, which an author may well mean.
LETTERS = [
    "\u05d0\u05d1\u05d2 (1) <b>\u05d3</b>",
    "\u0627\u0628\u062c 1+1 \u200d/\u200c",
    "e\u0301\u0302\u0303\u0304\u0305 Z\u0335\u0336",
    "\U0001f9ea \U0001d4d0 \ufdfa",
]
SCRIPTS = [
    "</textarea></script></style></title>",
    "</script><script>alert(1)</script>",
    "</ScRiPt ><img src=x onerror=alert(1)>",
    "<!--<script>",
    '"},{"@type":"Thing","url":"javascript:alert(1)"}',
    "\\u003cscript\\u003e \\\\\" \\'",
    "';alert(1)// \";alert(1)// `;alert(1)//",
    "*/alert(1)/* //--> ]]>",
    "__proto__ constructor toString",
]
SEARCH = [
    '<mark data-md-highlight onclick="alert(1)">x</mark>',
    "zzq<img/src=x/onerror=alert(1)>zzq",
    "title:x^9 +x -x x~1 *",
    "</mark></article><script>alert(1)</script>",
]
CATEGORIES = {
    "typed": TYPED,
    "HTML": HTML,
    "attributes": ATTRIBUTES,
    "Markdown": MARKDOWN,
    "templates": TEMPLATES,
    "addresses": ADDRESSES,
    "SVG": SVG,
    "spreadsheets": SPREADSHEET,
    "letters": LETTERS,
    "scripts": SCRIPTS,
    "search": SEARCH,
}
PAYLOADS = [payload for found in CATEGORIES.values() for payload in found]

#: Unseen characters and those that turn the text round: refused in every text, one of each sort here.
UNSEEN = [
    *("\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069"),
    *("\u200b", "\u200e", "\u200f", "\u061c", "\u2028", "\u2029", "\u2060", "\u2063", "\u206a", "\ufeff"),
    *("\u00ad", "\u180e", "\ufff9", "\U000e0041"),
]
