// Contrast ratio and relative luminance as WCAG 2.1 defines them.
(() => {
  const numbers = (colour) => (colour.match(/[\d.]+/g) ?? []).map(Number);
  const luminance = ([r = 0, g = 0, b = 0]) => {
    const [x = 0, y = 0, z = 0] = [r, g, b].map((part) =>
      part / 255 <= 0.03928 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4,
    );
    return 0.2126 * x + 0.7152 * y + 0.0722 * z;
  };
  const behind = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const colour = numbers(getComputedStyle(at).backgroundColor);
      if (colour.length === 3 || colour[3] !== 0) return colour;
    }
    return [255, 255, 255];
  };
  let least = { ratio: 21, text: "" };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const text = node.textContent?.trim() ?? "";
    const element = node.parentElement;
    if (text === "" || !element) continue;
    const style = getComputedStyle(element);
    const ink = element.namespaceURI?.endsWith("svg") ? style.fill : style.color;
    const [a, b] = [luminance(numbers(ink)), luminance(behind(element))];
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    if (ratio < least.ratio) least = { ratio, text };
  }
  return least;
})();
