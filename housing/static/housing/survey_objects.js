// The objects of the place: what is known of each, which comes next, and what this device still has to send.

import { keepPlace, placeAsKept } from "./survey_store.js";

const WAITING = "waiting";

export class Objects {
  // page: as the server wrote it into the page, which may have been kept for days.
  constructor(page) {
    this.known = page;
    this.waiting = new Map();
    this.seen = new Set(); // looked at since the page was opened: not offered again
    this.visited = [];
  }

  // Takes what this device kept of the place if it is newer than the page.
  async load() {
    const kept = await placeAsKept(this.known.place);
    if (kept && kept.made_at > this.known.made_at) this.known = kept;
    else await keepPlace(this.known);
  }

  async replace(known) {
    this.known = known;
    await keepPlace(known);
  }

  // One object as the server has it now.
  async update(row) {
    const objects = this.known.objects.map((each) => (each.id === row.id ? row : each));
    await this.replace({ ...this.known, made_at: new Date().toISOString(), objects });
  }

  get all() {
    return this.known.objects;
  }

  get(id) {
    return this.all.find((each) => each.id === id) ?? null;
  }

  numbered(number) {
    const asked = number.trim().split(/\s+/).join(" ").toLowerCase();
    return this.all.find((each) => each.number.toLowerCase() === asked) ?? null;
  }

  stateOf(row) {
    return this.waiting.has(row.id) ? WAITING : row.state;
  }

  isLeft(row) {
    return row.is_left && !this.waiting.has(row.id);
  }

  get left() {
    return this.all.filter((row) => this.isLeft(row)).length;
  }

  // The next with something left to do behind this one, beginning anew at the end.
  next(after) {
    const at = this.all.findIndex((row) => row.id === after);
    const turn = [...this.all.slice(at + 1), ...this.all.slice(0, Math.max(at, 0))];
    return turn.find((row) => this.isLeft(row) && !this.seen.has(row.id)) ?? turn.find((row) => this.isLeft(row)) ?? null;
  }

  before(id) {
    while (this.visited.length) {
      const last = this.get(this.visited.pop());
      if (last && last.id !== id) return last;
    }
    const at = this.all.findIndex((row) => row.id === id);
    return this.all.at(at - 1) ?? null;
  }
}
