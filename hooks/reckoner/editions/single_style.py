"""The single file's looks: light, and red on black by a radio button instead of a script."""

#: Names of styles as the pages have them, and as the file writes them; any other has no style in the file.
SHORT = {
    "hb-weigh": "w",
    "hb-water": "a",
    "hb-caution": "c",
    "hb-advice": "v",
    "hb-warn": "n",
    "hb-choice": "o",
    "hb-jump": "j",
    "hb-list": "l",
    "hb-sums": "s",
    "hb-chart": "g",
    "hb-line": "hl",
    "hb-grid": "hg",
}

STYLE = (
    "html{scroll-padding-top:3.6rem;-webkit-text-size-adjust:100%}"
    "body{margin:0;font:18px/1.45 sans-serif;overflow-wrap:break-word;color:#111;background:#fff}"
    "#contents{max-width:44rem;margin:auto;padding:.5rem 1rem 40vh}"
    "a{color:#0b5f66}"
    "main>input{position:fixed;top:.5rem;right:0;opacity:0;pointer-events:none}"
    "nav{position:sticky;top:0;z-index:1;display:flex;padding:0 .3rem;background:#fff;border-bottom:2px solid}"
    "nav>*{flex:1;min-height:48px;line-height:48px;text-align:center;font-weight:700}"
    "#light:focus-visible~nav>[for=light],#red:focus-visible~nav>[for=red],a:focus-visible{outline:3px solid}"
    "#light:checked~nav>[for=light],#red:checked~nav>[for=red]{text-decoration:underline}"
    "#red:checked~*,#red:checked~* *{color:red!important;background:#000!important;border-color:red!important}"
    "#red:checked~#contents{min-height:100vh;max-width:none}"
    "html:has(#red:checked),html:has(#red:checked) body{background:#000;color-scheme:dark;scrollbar-color:red #000}"
    "::selection{color:#000;background:red}"
    "section{border-top:4px solid;margin-top:2.5rem}"
    "h2{font-size:1.5rem;line-height:1.2}h4{font-size:1.15rem}"
    "h3{font-size:1.3rem;border-top:1px solid;padding-top:.5rem}"
    "table{width:100%;border-collapse:collapse;table-layout:fixed}"
    "td,th{padding:.4rem .2rem;border-bottom:1px solid #999;vertical-align:top;text-align:left}"
    ".w td+td{text-align:right;width:43%}.w b{display:block;font-size:1.5rem;white-space:nowrap}"
    ".w i{font-style:normal;font-weight:700}"
    ".w small,.o,.o i{display:block}.w .o i{font-weight:400}.a td,.c,.c td{font-weight:700}"
    ".c td,.v td,.n,p.c{border-left:.4rem solid #a34a00;background:#fff3e2;padding-left:.6rem}.n{padding:.1rem .6rem}"
    ".w .c td{border-bottom:0}"
    ".j a{display:inline-block;min-width:48px;line-height:48px;text-align:center}"
    ".l{list-style:none;padding:0}.l a{display:block;padding-top:.6rem;font-weight:700}"
    ".l small{display:block;padding-bottom:.6rem}"
    ".s div{display:flex;flex-wrap:wrap;justify-content:space-between}dt{font-weight:700}dd{margin:0 0 .5rem}"
    ".g{margin:1rem 0}svg{max-width:100%;height:auto}.hl,.hg{fill:none;stroke:currentColor}"
    ".g text,.g rect{fill:currentColor}.g text{font-size:11px}"
    "@media print{main>input,nav{display:none}}"
)
