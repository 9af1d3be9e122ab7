// Letters beside a name that do not stand where they are read: from left to right, and none of them inside the name.
(name) => {
  const blockOf = (node) => {
    let at = node.parentElement;
    while (at && getComputedStyle(at).display.startsWith("inline")) at = at.parentElement;
    return at;
  };
  const blocks = new Map();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const block = node.parentElement.closest("text") ?? blockOf(node);
    blocks.set(block, [...(blocks.get(block) ?? []), node]);
  }
  const lettersIn = (nodes) => {
    const text = nodes.map((node) => node.data).join("");
    const isName = Array.from(text, () => false);
    for (let at = text.indexOf(name); at >= 0; at = text.indexOf(name, at + 1)) isName.fill(true, at, at + name.length);
    let index = 0;
    return nodes.flatMap((node) =>
      [...node.data].map((letter, at) => {
        const range = document.createRange();
        range.setStart(node, at);
        range.setEnd(node, at + 1);
        const { left, width, top, height } = range.getBoundingClientRect();
        const own = isName[index];
        index += 1;
        return { letter, own, x: left + width / 2, y: top + height / 2, isThere: width > 0 && letter.trim() !== "" };
      }),
    );
  };
  const wrong = [];
  for (const [, nodes] of blocks) {
    const letters = lettersIn(nodes).filter(({ isThere }) => isThere);
    const lines = Map.groupBy?.(letters, ({ y }) => Math.round(y / 8)) ?? new Map([[0, letters]]);
    for (const [, line] of lines) {
      const names = line.filter(({ own }) => own);
      const others = line.filter(({ own }) => !own);
      const read = (some) => some.map(({ letter }) => letter).join("");
      const told = `${read(line)}, drawn as ${read(line.toSorted((a, b) => a.x - b.x))}`;
      if (others.some(({ x }, at) => at > 0 && x <= others[at - 1].x)) wrong.push(told);
      const [from, to] = [Math.min(...names.map(({ x }) => x)), Math.max(...names.map(({ x }) => x))];
      if (line.filter(({ letter }) => letter === name[0]).length < 2 && others.some(({ x }) => x > from && x < to))
        wrong.push(`inside the name: ${told}`);
    }
  }
  return wrong;
};
