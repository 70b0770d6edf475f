// The page works without this script: every change is a form and every item a link. With it, pages are swapped in place,
// single keys work, clips show where they are, and the changes of others are announced.
"use strict";

(() => {
  document.documentElement.classList.add("scripted");
  const page = () => document.getElementById("page");
  const spoken = document.getElementById("spoken");
  const POLL = 5000; // milliseconds between questions about what others changed
  let busy = false;

  // Swapping

  function show(html, address, focus) {
    const fresh = new DOMParser().parseFromString(html, "text/html");
    const next = fresh.getElementById("page");
    if (!next) return location.assign(address);
    const pane = document.querySelector(".pane:not([hidden])");
    const scrolled = pane ? pane.scrollTop : 0;
    page().replaceWith(document.adoptNode(next));
    document.title = fresh.title;
    history.replaceState(null, "", address);
    prepare();
    const now = document.querySelector(".pane:not([hidden])");
    if (now) now.scrollTop = scrolled;
    const said = [...document.querySelectorAll("[data-say]")].map((one) => one.textContent.trim());
    spoken.textContent = said.join(" ");
    if (focus) focusSelected();
  }

  function focusSelected() {
    const selected = document.getElementById("selected") || document.getElementById("work");
    if (!selected) return;
    selected.focus({ preventScroll: true });
    const top = selected.closest("li") || selected;
    const box = top.getBoundingClientRect();
    if (box.top < 0 || box.bottom > innerHeight) top.scrollIntoView({ block: box.height > innerHeight ? "start" : "nearest" });
    showWords();
  }

  function showWords() {
    const word = document.querySelector(".block a.chosen");
    const pane = word && word.closest(".pane");
    if (pane && !pane.hidden) pane.scrollTop = word.offsetTop - pane.offsetTop - pane.clientHeight / 3;
  }

  async function fetched(address, options) {
    if (busy) return;
    busy = true;
    silence();
    try {
      const response = await fetch(address, { ...options, credentials: "same-origin" });
      show(await response.text(), response.redirected || !options ? response.url : location.href, true);
    } catch {
      spoken.textContent = "";
      warn("The program does not answer. Nothing that was confirmed is lost; start the review command again.");
    } finally {
      busy = false;
    }
  }

  function warn(text) {
    const news = document.getElementById("news");
    if (!news) return;
    news.firstElementChild.textContent = text;
    news.hidden = false;
    spoken.textContent = text;
  }

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.method !== "post" || !page().dataset.exam) return;
    event.preventDefault();
    const action = event.submitter && event.submitter.hasAttribute("formaction") ? event.submitter.formAction : form.action;
    const body = new URLSearchParams(new FormData(form, event.submitter));
    fetched(action, { method: "POST", body });
  });

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-go]");
    if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey && event.button === 0) {
      event.preventDefault();
      fetched(link.href);
      return;
    }
    const button = event.target.closest("button");
    if (!button) return;
    if (button.dataset.audio) play(button);
    else if (button.dataset.opens) open(button);
    else if (button.dataset.opensDialog) document.getElementById(button.dataset.opensDialog).showModal();
    else if (button.role === "tab" || button.getAttribute("role") === "tab") choose(button);
  });

  // Clips

  function silence() {
    for (const audio of document.querySelectorAll("audio")) audio.pause();
  }

  function play(button) {
    const audio = document.getElementById(button.dataset.audio);
    const figure = button.closest(".clip");
    const head = figure.querySelector(".playhead");
    const width = figure.querySelector(".wave").viewBox.baseVal.width;
    if (!audio.paused) return audio.pause();
    silence();
    const follow = () => {
      const x = audio.duration ? (width * audio.currentTime) / audio.duration : 0;
      head.setAttribute("x1", x);
      head.setAttribute("x2", x);
      if (!audio.paused) requestAnimationFrame(follow);
    };
    audio.onplay = () => {
      button.setAttribute("aria-pressed", "true");
      figure.classList.add("playing");
      follow();
    };
    audio.onpause = audio.onended = () => {
      button.setAttribute("aria-pressed", "false");
      figure.classList.remove("playing");
    };
    audio.currentTime = 0;
    audio.play().catch(() => warn("The clip cannot be played."));
  }

  // Tabs

  function choose(tab) {
    for (const one of document.querySelectorAll("[role=tab]")) {
      const chosen = one === tab;
      one.setAttribute("aria-selected", String(chosen));
      one.tabIndex = chosen ? 0 : -1;
      document.getElementById(one.getAttribute("aria-controls")).hidden = !chosen;
    }
    sessionStorage.setItem("tab", tab.id);
    showWords();
  }

  document.addEventListener("keydown", (event) => {
    const tab = event.target.closest("[role=tab]");
    if (!tab || !["ArrowLeft", "ArrowRight", "Home", "End"].includes(event.key)) return;
    event.preventDefault();
    const tabs = [...document.querySelectorAll("[role=tab]")];
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    const at = step ? (tabs.indexOf(tab) + step + tabs.length) % tabs.length : event.key === "Home" ? 0 : tabs.length - 1;
    choose(tabs[at]);
    tabs[at].focus();
  });

  // Editing

  function open(button) {
    const details = document.getElementById(button.dataset.opens);
    details.open = !details.open;
    button.setAttribute("aria-expanded", String(details.open));
    if (details.open) details.querySelector("select, input:not([type=hidden])").focus();
  }

  function fit(form) {
    const manoeuvre = form.querySelector("[data-scales]");
    if (!manoeuvre) return;
    const chosen = manoeuvre.selectedOptions[0];
    const value = form.elements.value;
    if (chosen && chosen.dataset.scale) value.setAttribute("list", `scale-${chosen.dataset.scale}`);
    for (const field of form.querySelectorAll("[data-when]")) field.hidden = field.dataset.when !== form.elements.status.value;
  }

  document.addEventListener("change", (event) => {
    if (event.target.form) fit(event.target.form);
    if (event.target.id === "keys-on") {
      localStorage.setItem("keys", event.target.checked ? "on" : "off");
      document.body.classList.toggle("keys-off", !event.target.checked);
    }
  });

  // Keys

  function move(step) {
    const lines = [...document.querySelectorAll(".queue .line, .group > .line")];
    const at = lines.findIndex((line) => line.hasAttribute("aria-current"));
    const next = lines[at < 0 ? 0 : at + step];
    if (next) next.click();
  }

  const visible = (one) => one.checkVisibility() && !one.disabled;

  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest("input:not([type=checkbox]), select, textarea, dialog");
    if (event.key === "Escape" && typing && !event.target.closest("dialog")) {
      const editor = event.target.closest("details");
      if (editor) editor.open = false;
      focusSelected();
      return;
    }
    if (typing || event.ctrlKey || event.metaKey || event.altKey || event.repeat || localStorage.getItem("keys") === "off") return;
    const key = event.key.toLowerCase();
    if (key === "j" || key === "k") {
      event.preventDefault();
      move(key === "j" ? 1 : -1);
    } else if (key === "r") {
      const tabs = [...document.querySelectorAll("[role=tab]")];
      choose(tabs[(tabs.findIndex((tab) => tab.getAttribute("aria-selected") === "true") + 1) % tabs.length]);
    } else {
      // A row's own button comes before the page's: Undo is offered for both.
      const found = [...document.querySelectorAll(`[data-key="${CSS.escape(key)}"]`)].filter(visible);
      const target = found.find((one) => one.closest("#selected")) || found[0];
      if (!target) return;
      event.preventDefault();
      target.click();
      if (target.tagName === "SUMMARY" && target.parentElement.open) {
        const first = target.parentElement.querySelector("input:not([type=hidden])");
        if (first) first.focus();
      }
    }
  });

  // What others changed

  async function ask() {
    const { exam, revision } = page().dataset;
    if (!exam || busy || document.hidden) return;
    try {
      const response = await fetch(`/exams/${exam}/news?after=${revision}`, { credentials: "same-origin" });
      const { text } = await response.json();
      const news = document.getElementById("news");
      if (text && page().dataset.revision === revision && news.firstElementChild.textContent !== text) warn(text);
    } catch {
      // The next change will say so, if the program is gone.
    }
  }

  function prepare() {
    const tabs = document.querySelector(".tabs");
    if (tabs) {
      tabs.hidden = false;
      const tab = document.getElementById(sessionStorage.getItem("tab")) || tabs.firstElementChild;
      for (const one of tabs.children) {
        const pane = document.getElementById(one.getAttribute("aria-controls"));
        pane.setAttribute("role", "tabpanel");
        pane.setAttribute("aria-labelledby", one.id);
        pane.tabIndex = 0;
      }
      choose(tab);
    }
    for (const form of document.querySelectorAll("form")) fit(form);
    const off = localStorage.getItem("keys") === "off";
    document.body.classList.toggle("keys-off", off);
    const box = document.getElementById("keys-on");
    if (box) box.checked = !off;
  }

  prepare();
  if (page().dataset.exam) {
    setInterval(ask, POLL);
    if (new URLSearchParams(location.search).has("item")) focusSelected();
  }
})();
