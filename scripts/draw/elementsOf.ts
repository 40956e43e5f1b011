/** An element and all within it, in the order of the text. Walked by hand, as jsdom's lists and selectors are what drawing waits for most. */
export function* elementsOf(element: Element): Generator<Element> {
  yield element;
  for (let child = element.firstElementChild; child; child = child.nextElementSibling) yield* elementsOf(child);
}
