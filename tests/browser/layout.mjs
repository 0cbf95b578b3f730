// Runs inside the page: what of its text is cut off or lies on other text. Boxes, not pictures.
export function misplaced() {
  const found = [];
  const name = (node) => `${node.tagName} "${node.textContent.trim().slice(0, 50)}"`;
  const slack = 1.5;  // pixels: boxes of letters reach over what is drawn of them

  if (document.documentElement.scrollWidth > innerWidth)
    found.push(`the page is ${document.documentElement.scrollWidth} wide on ${innerWidth}`);

  for (const node of document.querySelectorAll('h1, h2, h3, p, li, dt, dd, figcaption, summary, button')) {
    if (!node.checkVisibility()) continue;
    if (node.scrollWidth > node.clientWidth + slack && node.clientWidth > 0)
      found.push(`cut off: ${name(node)}`);
  }

  // Blocks that follow one another do not lie on one another.
  for (const parent of document.querySelectorAll('main, header, section, figure, dl, ol, ul, details')) {
    const boxes = [...parent.children]
      .filter((child) => child.checkVisibility() && !child.matches('.unseen, script, .skip'))
      .map((child) => ({child, box: child.getBoundingClientRect()}))
      .filter(({box}) => box.width > 0 && box.height > 0);
    for (let i = 1; i < boxes.length; ++i) {
      const above = boxes[i - 1];
      const below = boxes[i];
      const apart = below.box.top >= above.box.bottom - slack || below.box.left >= above.box.right - slack
        || below.box.right <= above.box.left + slack;
      if (!apart) found.push(`${name(below.child)} lies on ${name(above.child)}`);
    }
  }

  for (const svg of document.querySelectorAll('.plot svg')) {
    const chart = svg.closest('figure').id;
    const frame = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll('text')]
      .filter((text) => text.textContent.trim() && Number(text.getAttribute('opacity') ?? 1) > 0
        && Number(getComputedStyle(text).opacity) > 0)
      .map((text) => ({text, box: text.getBoundingClientRect()}));
    for (const {text, box} of texts)
      if (box.left < frame.left - slack || box.right > frame.right + slack || box.top < frame.top - slack
        || box.bottom > frame.bottom + slack)
        found.push(`${chart}: cut off: "${text.textContent}"`);
    for (let i = 0; i < texts.length; ++i)
      for (let k = i + 1; k < texts.length; ++k) {
        const a = texts[i].box;
        const b = texts[k].box;
        const over = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const under = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (over > slack && under > 3 * slack)
          found.push(`${chart}: "${texts[i].text.textContent}" lies on "${texts[k].text.textContent}"`);
      }
  }
  return found;
}
