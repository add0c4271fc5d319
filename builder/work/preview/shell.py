"""What a browser gets around the pages: a page, its style and its script, all of them ours."""

PAGE = b"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Preview</title>
<meta name="viewport" content="width=device-width"><link rel="stylesheet" href="/page.css"></head>
<body><main id="sheet"></main>
<aside><p id="state" role="status">The pages are being made.</p><div id="problems"></div></aside>
<script src="/page.js"></script></body></html>
"""
STYLE = b"""
:root { color-scheme: light; font: 15px/1.4 system-ui, sans-serif; }
body { margin: 0; display: flex; flex-wrap: wrap; gap: 1rem; padding: 1rem; background: #e4e4e4; color: #222; }
main { flex: 3 1 24rem; }
main img { max-width: 100%; box-shadow: 0 1px 6px #0006; background: #fff; }
main embed { width: 100%; height: 92vh; }
main.stale img, main.stale embed { opacity: .45; }
aside { flex: 1 1 18rem; max-width: 44rem; }
pre { white-space: pre-wrap; overflow-wrap: anywhere; padding: .6rem; margin: 0 0 .6rem; background: #fff;
  border-left: 5px solid #b8860b; }
pre.error { border-color: #b00020; }
"""
SCRIPT = b"""
const sheet = document.getElementById("sheet"), said = document.getElementById("state");
const problems = document.getElementById("problems");
let tag = "", made = 0;

function show(state) {
  if (state.made !== made) {
    made = state.made;
    const page = document.createElement(state.picture ? "img" : "embed");
    if (state.picture) page.alt = state.text; else page.type = "application/pdf";
    page.src = (state.picture ? "/page.png?" : "/page.pdf?") + made;
    sheet.replaceChildren(page);
    document.title = state.title;
  }
  sheet.className = state.stale ? "stale" : "";
  problems.replaceChildren(...state.problems.map(one => {
    const text = document.createElement("pre");
    text.className = one.severity;
    text.textContent = one.text;
    return text;
  }));
}

function tell(state) {
  if (!state.stale) return "Up to date.";
  return made ? "The files have problems; these are the last good pages." : "The files have problems.";
}

async function look() {
  try {
    const answer = await fetch("/state", {headers: tag ? {"If-None-Match": tag} : {}, cache: "no-store"});
    if (answer.status === 200) {
      tag = answer.headers.get("ETag");
      const state = await answer.json();
      if (tag !== '"0"') { show(state); said.textContent = tell(state); }
    }
    if (said.dataset.gone) { delete said.dataset.gone; tag = ""; }
  } catch {
    said.textContent = "The preview has ended.";
    said.dataset.gone = "yes";
  }
  setTimeout(look, 400);
}
look();
"""
