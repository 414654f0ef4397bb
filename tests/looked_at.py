"""What a screen shows, looked at as a whole: what of it is cut, and every text that is on it."""

# Every text that is seen must lie within the screen, within each box that cuts what goes beyond it, and within the
# nearest box that is drawn around it; no two texts may lie on one another. What can be scrolled is not cut, nor is a
# choice that has a row of its own: closed, it ends in dots where it is longer, and opened, a phone shows it whole.
CUT = """() => {
  const root = document.documentElement, found = new Set(), lines = [];
  if (root.scrollWidth > root.clientWidth) found.add(`the page is ${root.scrollWidth} in ${root.clientWidth}`);
  const looks = new Map();
  const look = (one) => {
    if (!looks.has(one)) looks.set(one, getComputedStyle(one));
    return looks.get(one);
  };
  const isDrawn = (one) => {
    const { backgroundColor, borderLeftWidth, borderRightWidth } = look(one);
    const isFramed = parseFloat(borderLeftWidth) > 0 && parseFloat(borderRightWidth) > 0;
    return isFramed || backgroundColor !== "rgba(0, 0, 0, 0)";
  };
  const goes = (one, axis, ways) => look(one).display !== "inline" && ways.includes(look(one)[`overflow${axis}`]);
  const scrolls = (one, axis) => one !== document.body && goes(one, axis, ["auto", "scroll"]);
  const cuts = (one, axis) => goes(one, axis, ["hidden", "clip"]);
  const told = (why, node, more = "") => {
    const { localName, className } = node.parentElement;
    found.add(`${why}: ${node.data.trim().slice(0, 70)} <${localName} ${className.baseVal ?? className}> ${more}`);
  };
  const within = (a, b, slack = 1.5) => a.left >= b.left - slack && a.right <= b.right + slack;
  const upright = (a, b, slack = 3) => a.top >= b.top - slack && a.bottom <= b.bottom + slack;
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode, parent = node.parentElement;
    const isSeen = !parent.closest("option, script, style, title, desc, noscript, .skip:not(:focus)");
    if (!isSeen || !node.data.trim()) continue;
    if (!parent.checkVisibility({ visibilityProperty: true })) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    // A text that is drawn narrower by its textLength tells that of itself alone, not of the range in it.
    const all = parent.hasAttribute("textLength") ? [parent.getBoundingClientRect()] : [...range.getClientRects()];
    const rects = all.filter(({ width, height }) => width > 0.5 && height > 0.5);
    if (!rects.length) continue;
    let drawn = null, layer = null, sideways = false, upDown = false;
    for (let one = parent; one && one !== root; one = one.parentElement) {
      const box = one.getBoundingClientRect();
      if (!sideways && cuts(one, "X") && !rects.every((rect) => within(rect, box))) told("cut", node);
      if (!upDown && cuts(one, "Y") && !rects.every((rect) => upright(rect, box))) told("cut below", node);
      sideways ||= scrolls(one, "X");
      upDown ||= scrolls(one, "Y");
      const isBox = one !== document.body && !(one instanceof SVGElement) && look(one).display !== "inline";
      if (!drawn && isBox && isDrawn(one)) {
        drawn = one;
        const isIn = (rect) => (sideways || within(rect, box)) && (upDown || upright(rect, box, 4));
        if (!rects.every(isIn)) told("out of its box", node);
      }
      if (!layer && ["fixed", "sticky", "absolute"].includes(look(one).position)) layer = one;
    }
    const isOnScreen = ({ left, right }) => left >= -1 && right <= root.clientWidth + 1;
    if (!sideways && !rects.every(isOnScreen)) told("beyond the screen", node);
    if (look(parent).textOverflow === "ellipsis" && parent.scrollWidth > parent.clientWidth) told("shortened", node);
    lines.push(...rects.map(({ left, right, top, bottom, height }) => (
      { node, layer, left: left + 1, right: right - 1, top: top + height * 0.22, bottom: bottom - height * 0.22 }
    )));
  }
  lines.sort((a, b) => a.top - b.top);
  lines.forEach((a, i) => {
    for (let k = i + 1; k < lines.length && lines[k].top < a.bottom; k += 1) {
      const b = lines[k];
      if (a.node !== b.node && a.layer === b.layer && a.left < b.right && b.left < a.right) {
        told("on another text", a.node, b.node.data.trim().slice(0, 60));
      }
    }
  });
  const pen = document.createElement("canvas").getContext("2d");
  for (const one of document.querySelectorAll("select, input[placeholder], textarea[placeholder]")) {
    const said = one.localName === "select" ? one.selectedOptions[0]?.text : one.value ? "" : one.placeholder;
    if (!said || !one.checkVisibility({ visibilityProperty: true }) || one.matches("textarea, .wide")) continue;
    const { font, paddingLeft, paddingRight } = look(one);
    pen.font = font;
    const room = one.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight);
    const { width } = pen.measureText(said);
    if (width > room + 1) found.add(`cut in a field: ${said.slice(0, 60)} ${Math.round(width)} in ${Math.round(room)}`);
  }
  return [...found];
}"""
# All texts there are on the page, hidden ones too, with what is heard: each once.
TEXTS = """() => {
  const heard = ["aria-label", "title", "placeholder", "alt", "aria-valuetext", "aria-roledescription"];
  const said = new Set([document.title]);
  const read = (root) => {
    const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT | NodeFilter.SHOW_ELEMENT);
    while (walker.nextNode()) {
      const node = walker.currentNode;
      if (node.nodeType === Node.TEXT_NODE) {
        if (!node.parentElement?.closest("script, style, textarea, noscript")) said.add(node.data.trim());
        continue;
      }
      for (const name of heard) if (node.getAttribute(name)) said.add(node.getAttribute(name));
      if (node.localName === "template") read(node.content);
      if (node.matches("input[type=button], input[type=submit]")) said.add(node.value);
      if (node.matches("meta[name=description]")) said.add(node.content);
    }
  };
  read(document.documentElement);
  return [...said].filter(Boolean);
}"""
