"use strict";
// Sound goes to the server block by block and stays here until the server says that it is on the disk.

const RATE = 16000;
const RETRY = 1000;
const STATES = {
  waiting: "Waiting: say “computer, start dictation”",
  listening: "Listening",
  paused: "Paused: nothing is taken down or recorded",
  finished: "Finished",
};

const at = (id) => document.getElementById(id);
const session = document.body.dataset.session;
const blocks = []; // {first, muted, samples}, oldest first: all that the server has not confirmed
let next = null; // the number of the next sample; null until the server has said where the dictation stands
let socket = null;
let sent = 0; // how many of the blocks went out on this connection
let speaking = false;
let done = false;
let playing = Promise.resolve();

at("microphone").addEventListener("click", start);
for (const button of document.querySelectorAll("[data-control]")) {
  button.addEventListener("click", () => socket.send(JSON.stringify({ control: button.dataset.control })));
}
window.addEventListener("beforeunload", (event) => {
  if (blocks.length && !done) event.preventDefault();
});

async function start() {
  at("microphone").disabled = true;
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({
      audio: { channelCount: 1, echoCancellation: false, noiseSuppression: false, autoGainControl: false },
    });
    const context = new AudioContext({ sampleRate: RATE });
    await context.audioWorklet.addModule("/dictate/static/recorder.js");
    const recorder = new AudioWorkletNode(context, "recorder", { numberOfOutputs: 0 });
    recorder.port.onmessage = (event) => take(event.data);
    context.createMediaStreamSource(stream).connect(recorder);
    await context.resume();
  } catch (error) {
    at("microphone").disabled = false;
    return problem(reason(error));
  }
  stream.getAudioTracks()[0].addEventListener("ended", () => {
    at("microphone").disabled = false;
    at("start").hidden = false;
    problem("The microphone is gone. All that was heard is kept. Plug it in and start it again.");
  });
  problem("");
  at("start").hidden = true;
  at("view").hidden = at("buttons").hidden = false;
  if (navigator.wakeLock) navigator.wakeLock.request("screen").catch(() => {});
  if (!socket) connect();
}

function reason(error) {
  if (error.name === "NotAllowedError") return "The microphone is not allowed. Allow it for this page, then start again.";
  if (error.name === "NotFoundError") return "There is no microphone. Plug one in, then start again.";
  if (error.name === "NotSupportedError") return "This browser cannot record at 16 kHz. Use another browser, or the command: spoken-exam listen";
  return `The microphone cannot be used (${error.message}). Start it again.`;
}

function take(samples) {
  if (done) return;
  blocks.push({ first: next, muted: speaking, samples });
  if (next !== null) next += samples.length;
  send();
}

function connect() {
  sent = 0;
  socket = new WebSocket(`ws://${location.host}/dictate/${session}/socket`);
  let ready = false;
  socket.addEventListener("message", (event) => {
    const told = JSON.parse(event.data);
    if (told.samples !== undefined) {
      ready = true;
      place(told.samples);
      send();
    }
    if (told.ack !== undefined) confirmed(told.ack);
    if (told.board) show(told.board);
    if (told.say) playing = playing.then(() => speak(told.say));
    if (told.error) problem(`${told.error} (trying again)`);
    if (told.moved) {
      done = true;
      problem("This dictation goes on in another window.");
    }
    if (told.kept) kept(told.kept);
  });
  socket.addEventListener("close", () => {
    ready = false;
    if (done) return;
    status();
    setTimeout(connect, RETRY);
  });
  socket.isReady = () => ready && socket.readyState === WebSocket.OPEN;
}

// Where the server stands: blocks that it has are dropped, the rest is sent from there on.
function place(samples) {
  if (next === null) {
    next = samples;
    for (const block of blocks) {
      block.first = next;
      next += block.samples.length;
    }
  }
  confirmed(samples);
  sent = 0;
}

function confirmed(samples) {
  while (blocks.length && blocks[0].first + blocks[0].samples.length <= samples) {
    blocks.shift();
    sent = Math.max(0, sent - 1);
  }
  status();
}

function send() {
  if (!socket || !socket.isReady()) return status();
  while (sent < blocks.length) {
    const block = blocks[sent++];
    const message = new Uint8Array(9 + 2 * block.samples.length);
    const head = new DataView(message.buffer);
    head.setBigUint64(0, BigInt(block.first), true);
    head.setUint8(8, block.muted ? 1 : 0);
    message.set(new Uint8Array(block.samples.buffer), 9);
    socket.send(message);
  }
}

function status() {
  const waiting = blocks.reduce((sum, block) => sum + block.samples.length, 0) / RATE;
  const open = socket && socket.isReady();
  for (const button of document.querySelectorAll("[data-control]")) button.disabled = !open;
  at("line").textContent = open || done ? "" : `No connection: ${Math.round(waiting)} s of sound wait here. Keep this page open.`;
}

async function speak(address) {
  const audio = new Audio(address);
  speaking = true;
  try {
    await audio.play();
    await new Promise((resolve) => { audio.onended = audio.onerror = resolve; });
    await new Promise((resolve) => setTimeout(resolve, 300));
  } catch {
    // A page that may not speak still shows the question.
  }
  speaking = false;
}

function kept(exam) {
  done = true;
  blocks.length = 0;
  at("start").hidden = true;
  at("view").hidden = at("buttons").hidden = false;
  for (const button of document.querySelectorAll("[data-control]")) button.hidden = true;
  at("state").textContent = "Finished and kept";
  at("review").href = `/exams/${exam}`;
  at("review").hidden = false;
  problem("");
  status();
}

function problem(text) {
  at("problem").textContent = text;
  at("problem").hidden = !text;
}

function show(board) {
  if (socket.isReady()) problem("");
  at("state").textContent = STATES[board.state];
  document.body.dataset.state = board.state;
  at("clock").textContent = `${Math.floor(board.seconds / 60)}:${String(Math.floor(board.seconds % 60)).padStart(2, "0")}`;
  list("taken", board.taken.length ? board.taken.slice(0, 3) : ["nothing yet"], board.taken.length - 3);
  at("heard").textContent = board.partial ? `${board.partial} …` : board.heard;
  at("question").textContent = board.question;
  at("question").hidden = !board.question;
  at("message").textContent = board.message;
  at("unsure-count").textContent = board.unsure.length;
  list("unsure", board.unsure.slice(0, 4), board.unsure.length - 4);
  at("clear").textContent = board.to_clear.length ? `${board.to_clear.length} to clear in review` : "";
  at("missing-count").textContent = board.missing.length;
  at("missing").textContent = board.missing.join(" · ") || "nothing";
  at("rows").textContent = board.rows;
  at("parts").replaceChildren(...board.parts.map(part));
  const newest = document.querySelector("tr.new");
  if (newest) newest.scrollIntoView({ block: "nearest" });
}

function list(id, texts, more) {
  const items = texts.map((text) => element("li", text));
  if (more > 0) items.push(element("li", `and ${more} more`));
  at(id).replaceChildren(...items);
}

function part(found) {
  const table = element("table");
  const head = element("tr");
  for (const text of [found.title, "Right", "Left"]) head.append(Object.assign(element("th", text), { scope: "col" }));
  table.append(head);
  for (const line of found.lines) {
    const row = element("tr");
    if (line.new) row.className = "new";
    row.append(Object.assign(element("th", (line.new ? "▸ " : "") + line.name), { scope: "row" }));
    if (line.midline) row.append(Object.assign(element("td", line.midline), { colSpan: 2 }));
    else row.append(element("td", line.right || "·"), element("td", line.left || "·"));
    table.append(row);
  }
  return table;
}

function element(name, text = "") {
  const made = document.createElement(name);
  made.textContent = text;
  return made;
}
