"""A list whose order can be changed: by dragging, by buttons, by Alt and the arrow keys."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import streamlit as st

from ui import state

_HTML = """<ol aria-label="Priority order"></ol><p aria-live="polite"></p>"""

_CSS = """
ol { list-style: none; margin: 0; padding: 0; font-family: var(--st-font); }
li { display: flex; align-items: center; gap: .5rem; margin: .25rem 0; padding: .25rem .5rem;
     border: 1px solid var(--st-border-color); border-left: .4rem solid var(--st-primary-color);
     background: var(--st-secondary-background-color); color: var(--st-text-color); cursor: grab; }
li:focus-visible, button:focus-visible { outline: 3px solid var(--st-primary-color); }
li.over { border-top: 3px solid var(--st-primary-color); }
li b { min-width: 1.5rem; text-align: right; }
li span { flex: 1; }
button { min-width: 2.5rem; min-height: 2.5rem; font-size: 1rem; cursor: pointer;
         color: var(--st-text-color); background: var(--st-background-color);
         border: 1px solid var(--st-border-color); }
button:disabled { opacity: .6; cursor: default; }
p { position: absolute; width: 1px; height: 1px; overflow: hidden; margin: 0; }
"""

_JS = """
export default function ({ parentElement, data, setStateValue }) {
  const list = parentElement.querySelector("ol");
  const spoken = parentElement.querySelector("p");
  let items = [...data.items];
  const move = (from, to) => {
    if (to < 0 || to >= items.length || from === to) return;
    const [taken] = items.splice(from, 1);
    items.splice(to, 0, taken);
    list.dataset.moved = taken.id;
    draw();
    spoken.textContent = taken.label + " is now number " + (to + 1);
    setStateValue("order", items.map((one) => one.id));
  };
  const button = (text, name, off, act) => {
    const made = document.createElement("button");
    made.type = "button"; made.textContent = text; made.disabled = off;
    made.setAttribute("aria-label", name); made.onclick = act;
    return made;
  };
  const draw = () => {
    list.replaceChildren(...items.map((one, place) => {
      const row = document.createElement("li");
      row.draggable = true; row.tabIndex = 0;
      row.setAttribute("aria-label",
        one.label + ", number " + (place + 1) + " of " + items.length +
        ". Alt and arrow keys move it.");
      const number = document.createElement("b"), name = document.createElement("span");
      number.textContent = place + 1; name.textContent = one.label;
      row.append(number, name,
        button("\\u2191", "Move " + one.label + " up", place === 0, () => move(place, place - 1)),
        button("\\u2193", "Move " + one.label + " down", place === items.length - 1,
               () => move(place, place + 1)));
      row.ondragstart = (event) => event.dataTransfer.setData("text/plain", String(place));
      row.ondragover = (event) => { event.preventDefault(); row.classList.add("over"); };
      row.ondragleave = () => row.classList.remove("over");
      row.ondrop = (event) => {
        event.preventDefault();
        move(Number(event.dataTransfer.getData("text/plain")), place);
      };
      row.onkeydown = (event) => {
        if (!event.altKey || !["ArrowUp", "ArrowDown"].includes(event.key)) return;
        event.preventDefault();
        move(place, event.key === "ArrowUp" ? place - 1 : place + 1);
      };
      return row;
    }));
    const place = items.findIndex((one) => one.id === list.dataset.moved);
    if (place >= 0) list.children[place].focus();
  };
  draw();
}
"""

_component = st.components.v2.component("standby-planner order list", html=_HTML, css=_CSS, js=_JS)


def order_list(
    ids: Sequence[str], labels: Sequence[str], take: Callable[[tuple[str, ...]], None], key: str
) -> None:
    """Draw the list; `take` gets the ids in their new order when something was moved."""
    items = [{"id": one, "label": label} for one, label in zip(ids, labels, strict=True)]

    def moved() -> None:
        order = state.widget(key)["order"]
        if sorted(order) == sorted(ids):
            take(tuple(order))

    _component(data={"items": items}, default={"order": list(ids)}, key=key, on_order_change=moved)
