// Live charts in the place of drawn ones: a cursor that runs through every chart over the same
// axis, zoom, and the values under the cursor in words. The numbers come in the units to be shown;
// nothing is computed here but places on the screen. The drawing stays, one button away.
(() => {
  "use strict";
  if (!window.uPlot) return;
  const MADE = new Map(); // address of the numbers -> live chart
  const PEN = 3; // pixels for a millimetre of a line pattern
  const SIDE = 58;
  const HINT = "Drag across to zoom, double click to go back. Arrow keys step along the lines.";

  const keep = {
    get: () => { try { return localStorage.getItem("swapwright:charts"); } catch { return null; } },
    set: (word) => { try { localStorage.setItem("swapwright:charts", word); } catch { /* not kept */ } },
  };
  let wanted = keep.get() === "drawn" ? "drawn" : "live";

  const token = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const ink = () => token("--ink");
  const soft = () => token("--ink-soft");
  const hair = () => token("--hair");
  const rule = () => token("--rule");
  const face = (size, ratio = 1) => `${size * ratio}px ${token("--plain")}`;
  const make = (name, className, text = "") => {
    const made = document.createElement(name);
    if (className) made.className = className;
    if (text) made.textContent = text;
    return made;
  };

  // Three digits, as everywhere; along the axis as it comes.
  const three = (value) => String(Number(value.toPrecision(3)));
  const withUnit = (text, unit) => (unit ? `${text} ${unit}` : text);
  const titled = (thing) => (thing.unit ? `${thing.label}, ${thing.unit}` : thing.label);

  // Points with a gap to either side: no line would show them.
  const lonely = (plot, place) => {
    const points = plot.data[place];
    return points.map((_, row) => row).filter((row) => points[row] != null && points[row - 1] == null && points[row + 1] == null);
  };

  class Live {
    constructor(address) {
      this.address = address;
      this.plots = [];
      this.labels = new WeakMap(); // plot -> where the labels of its marks lie
      this.at = null;
      this.asked = 0;
      this.element = make("div", "live-chart");
      this.element.tabIndex = 0;
      this.element.setAttribute("role", "group");
      this.reading = make("p", "reading", HINT);
      this.reading.setAttribute("aria-live", "off");
      this.element.addEventListener("keydown", (event) => this.key(event));
      this.watch = new ResizeObserver(() => this.fit());
      this.watch.observe(this.element);
    }

    async refresh() {
      const turn = ++this.asked;
      let numbers = null;
      try {
        const answer = await fetch(this.address, { headers: { accept: "application/json" } });
        if (answer.ok) numbers = await answer.json();
      } catch { /* the line is down: what is there stays */ }
      if (turn !== this.asked || !this.element.isConnected) return false;
      if (numbers) this.show(numbers);
      return this.plots.length > 0;
    }

    show(numbers) {
      const zoom = this.plots.length ? this.zoomed() : null;
      this.drop();
      this.numbers = numbers;
      this.element.setAttribute("aria-label", `live chart: ${numbers.label}; arrow keys move along it`);
      const along = numbers.x.points;
      const rows = along.map((_, row) => row).filter((row) => along[row] !== null);
      this.rows = rows;
      this.along = rows.map((row) => along[row]);
      if (!rows.length) return;
      numbers.panels.forEach((panel, place) => this.plots.push(this.plot(panel, place)));
      this.element.append(this.reading);
      if (zoom) for (const plot of this.plots) plot.setScale("x", zoom);
    }

    plot(panel, place) {
      const numbers = this.numbers;
      const isLast = place === numbers.panels.length - 1;
      const isOnly = numbers.panels.length === 1;
      const several = panel.series.length > 1;
      const head = make("div", "panel-head");
      const body = make("div", "panel");
      this.element.append(head, body);
      const levels = place ? [] : numbers.marks.filter((mark) => mark.y !== null);
      const axis = (more) => ({
        stroke: soft, font: face(12), labelFont: face(12), labelSize: 20, labelGap: 0,
        grid: { stroke: hair, width: 1 }, ticks: { stroke: rule, width: 1, size: 5 }, ...more,
      });
      const options = {
        width: this.wide(), height: this.high(isLast),
        padding: [isOnly ? 14 : 8, 24, 0, 0],
        cursor: {
          sync: { key: this.group(), setSeries: false, scales: ["x", null] },
          drag: { x: true, y: false, setScale: true },
          points: { size: 7, width: 2, stroke: ink, fill: () => token("--paper") },
        },
        legend: { live: true, markers: { show: false }, mount: (_, legend) => head.append(legend) },
        scales: {
          x: { time: false, distr: numbers.is_log ? 3 : 1 },
          y: {
            distr: numbers.is_log ? 3 : 1,
            range: (_, low, high) => this.range(panel, levels, low, high),
          },
        },
        axes: [
          axis(isLast
            ? { size: 34, label: titled(numbers.x), ...this.decades() }
            : { size: 8, values: (_, splits) => splits.map(() => "") }),
          axis({ size: SIDE - (isOnly ? 20 : 0), label: isOnly ? titled(panel) : undefined, ...this.decades() }),
        ],
        series: [
          {
            label: numbers.x.label,
            value: (_, value) => (value == null ? numbers.x.unit : withUnit(String(value), numbers.x.unit)),
          },
          ...panel.series.map((series) => ({
            label: several ? `${series.letter}  ${series.label}` : series.label,
            stroke: ink,
            width: numbers.is_log || isOnly ? 2 : 1.3,
            dash: series.dashes.map((length) => length * PEN),
            spanGaps: false,
            points: { show: true, size: 9, width: 2, stroke: ink, fill: ink, filter: lonely },
            value: (plot, value) =>
              value != null ? withUnit(three(value), series.unit) : plot.cursor.idx == null ? series.unit : "no value",
          })),
        ],
        hooks: {
          drawAxes: [(plot) => this.marks(plot, levels, place === 0)],
          draw: [(plot) => { if (several) this.letters(plot, panel); }],
          setCursor: [(plot) => this.read(plot)],
        },
      };
      const data = [this.along, ...panel.series.map((each) => this.rows.map((row) => each.points[row]))];
      return new uPlot(options, data, body);
    }

    range(panel, levels, low, high) {
      if (panel.ends) return panel.ends;
      // A level far from the lines may be told in the table: it would press them flat.
      const far = low == null || !this.numbers.is_around_lines ? Infinity : high - low;
      const near = levels.map((mark) => mark.y).filter((y) => low == null || (y >= low - far && y <= high + far));
      const values = [...near, low, high].filter((each) => each != null);
      if (!values.length) return [0, 1];
      const ends = [Math.min(...values), Math.max(...values)];
      if (this.numbers.is_log) return uPlot.rangeLog(ends[0], ends[1], 10, true);
      return uPlot.rangeNum(ends[0], ends[1], 0.08, true);
    }

    // The numbers of a logarithmic axis: the decades, and where they are few 2 and 5 of each too.
    decades() {
      if (!this.numbers.is_log) return {};
      return {
        filter: (_, splits) => {
          const named = Math.log10(splits.at(-1) / splits[0]) <= 3 ? [1, 2, 5] : [1];
          return splits.map((each) => {
            const digit = Math.round(each / 10 ** Math.floor(Math.log10(each) + 1e-9));
            return named.includes(digit) ? each : null;
          });
        },
      };
    }

    // Charts over the same axis share one cursor and one stretch of it.
    group() {
      const { x, is_log: isLog } = this.numbers;
      return `${x.label}|${x.unit}|${isLog}`;
    }

    wide() { return Math.max(200, Math.floor(this.element.clientWidth)); }

    high(isLast) {
      const wide = this.wide();
      const count = this.numbers.panels.length;
      if (count === 1) return Math.round(Math.min(520, Math.max(250, wide * 0.52)));
      const high = count < 4 ? 180 : 130;
      return (wide > 800 ? high : Math.round(high * 0.72)) + (isLast ? 48 : 0);
    }

    fit() {
      this.plots.forEach((plot, place) => {
        const size = { width: this.wide(), height: this.high(place === this.plots.length - 1) };
        if (size.width !== plot.width || size.height !== plot.height) plot.setSize(size);
      });
    }

    marks(plot, levels, isFirst) {
      const { ctx, bbox } = plot;
      const ratio = ctx.canvas.width / plot.width;
      ctx.save();
      ctx.strokeStyle = ink();
      ctx.lineWidth = ratio;
      ctx.setLineDash([2 * ratio, 3 * ratio]);
      ctx.font = `italic ${face(11, ratio)}`;
      ctx.textAlign = "left";
      ctx.textBaseline = "alphabetic";
      const labels = [];
      const right = bbox.left + bbox.width;
      for (const mark of this.numbers.marks) {
        if (mark.x === null) continue;
        const x = plot.valToPos(mark.x, "x", true);
        if (x < bbox.left || x > right) continue;
        this.stroke(ctx, x, bbox.top, x, bbox.top + bbox.height);
        const wide = ctx.measureText(mark.label).width;
        if (isFirst) labels.push([mark.label, Math.min(x + 4 * ratio, right - wide), bbox.top + 12 * ratio, wide, true]);
      }
      for (const mark of levels) {
        const y = plot.valToPos(mark.y, "y", true);
        const same = levels.filter((each) => each.y === mark.y);
        if (same[0] !== mark || y < bbox.top || y > bbox.top + bbox.height) continue;
        this.stroke(ctx, bbox.left, y, right, y);
        const text = `${same.map((each) => each.label).join("; ")}: ${mark.text}`;
        const wide = ctx.measureText(text).width;
        labels.push([text, right - wide - 4 * ratio, y - 3 * ratio, wide, false]);
      }
      const placed = [];
      const isOn = (other, left, y, wide) =>
        Math.abs(other.y - y) < 13 * ratio && left < other.left + other.wide && other.left < left + wide;
      for (const [text, start, base, wide, isUpright] of labels) {
        // Labels of upright lines make way downwards, those of levels to the left.
        let [left, y] = [start, base];
        for (const other of placed) {
          if (!isOn(other, left, y, wide)) continue;
          if (isUpright) y = other.y + 14 * ratio;
          else if (other.left - wide - 10 * ratio > bbox.left) left = other.left - wide - 10 * ratio;
        }
        placed.push({ left, y, wide });
        ctx.fillStyle = token("--paper");
        ctx.fillRect(left - 2 * ratio, y - 10 * ratio, wide + 4 * ratio, 12.5 * ratio);
        ctx.fillStyle = ink();
        ctx.fillText(text, left, y);
      }
      this.labels.set(plot, placed);
      ctx.restore();
    }

    stroke(ctx, x0, y0, x1, y1) {
      ctx.beginPath();
      ctx.moveTo(x0, y0);
      ctx.lineTo(x1, y1);
      ctx.stroke();
    }

    letters(plot, panel) {
      const { ctx, bbox } = plot;
      const ratio = ctx.canvas.width / plot.width;
      const { min, max } = plot.scales.x;
      const shown = this.along.map((_, row) => row).filter((row) => this.along[row] >= min && this.along[row] <= max);
      ctx.save();
      ctx.font = `bold ${face(11, ratio)}`;
      ctx.textAlign = "center";
      ctx.textBaseline = "middle";
      const isLabelled = (x, y) => (this.labels.get(plot) ?? []).some((label) =>
        x > label.left - 10 * ratio && x < label.left + label.wide + 10 * ratio && Math.abs(y - label.y + 4 * ratio) < 15 * ratio);
      panel.series.forEach((series, place) => {
        const points = plot.data[place + 1];
        const spots = shown
          .filter((row) => points[row] != null)
          .map((row) => [plot.valToPos(this.along[row], "x", true), plot.valToPos(points[row], "y", true)])
          .filter(([, y]) => y > bbox.top && y < bbox.top + bbox.height)
          .filter(([x, y]) => !isLabelled(x, y));
        if (!spots.length) return;
        const aim = bbox.left + (bbox.width * (place + 1)) / (panel.series.length + 1);
        const [x, y] = spots.reduce((best, spot) => (Math.abs(spot[0] - aim) < Math.abs(best[0] - aim) ? spot : best));
        ctx.beginPath();
        ctx.arc(x, y, 8 * ratio, 0, 2 * Math.PI);
        ctx.fillStyle = token("--paper");
        ctx.fill();
        ctx.strokeStyle = ink();
        ctx.lineWidth = ratio;
        ctx.setLineDash([]);
        ctx.stroke();
        ctx.fillStyle = ink();
        ctx.fillText(series.letter, x, y + 0.5 * ratio);
      });
      ctx.restore();
    }

    read(plot) {
      const row = plot.cursor.idx;
      if (row === this.at && this.reading.textContent !== HINT) return;
      this.at = row;
      if (row == null) {
        this.reading.textContent = HINT;
        return;
      }
      const { x, panels } = this.numbers;
      const told = panels.flatMap((panel) => panel.series).map((series) => {
        const value = series.points[this.rows[row]];
        const note = series.notes[this.rows[row]];
        const text = value == null ? "no value" : withUnit(three(value), series.unit);
        return `${series.label} ${text}${note ? ` (${note})` : ""}`;
      });
      this.reading.textContent = `At ${withUnit(String(this.along[row]), x.unit)}: ${told.join("; ")}`;
    }

    zoomed() {
      const { min, max } = this.plots[0].scales.x;
      const isWhole = min <= this.along[0] && max >= this.along[this.along.length - 1];
      return isWhole ? null : { min, max };
    }

    stretch(min, max) {
      for (const plot of uPlot.sync(this.group()).plots) plot.setScale("x", { min, max });
    }

    go(row) {
      const plot = this.plots[0];
      const { min, max } = plot.scales.x;
      const seen = this.along.map((_, each) => each).filter((each) => this.along[each] >= min && this.along[each] <= max);
      if (!seen.length) return;
      const at = Math.min(Math.max(row, seen[0]), seen[seen.length - 1]);
      plot.setCursor({ left: plot.valToPos(this.along[at], "x"), top: plot.over.clientHeight / 2 }, true, true);
    }

    key(event) {
      if (!this.plots.length || event.target !== this.element || event.altKey || event.ctrlKey || event.metaKey) return;
      const last = this.along.length - 1;
      const { min, max } = this.plots[0].scales.x;
      const step = event.shiftKey ? Math.max(1, Math.round(last / 20)) : 1;
      const from = this.at ?? this.along.findIndex((each) => each >= min);
      const centre = this.along[this.at ?? Math.round(last / 2)];
      const acts = {
        ArrowRight: () => this.go(this.at == null ? from : from + step),
        ArrowLeft: () => this.go(this.at == null ? from : from - step),
        Home: () => this.go(0),
        End: () => this.go(last),
        "+": () => this.zoom(centre, 0.5),
        "-": () => this.zoom(centre, 2),
        Escape: () => this.stretch(this.along[0], this.along[last]),
      };
      const act = acts[event.key];
      if (!act) return;
      event.preventDefault();
      act();
    }

    zoom(centre, share) {
      const { min, max } = this.plots[0].scales.x;
      const ends = [this.along[0], this.along[this.along.length - 1]];
      const isLog = this.numbers.is_log;
      const near = (end) => (isLog ? centre * (end / centre) ** share : centre + (end - centre) * share);
      this.stretch(Math.max(ends[0], near(min)), Math.min(ends[1], near(max)));
    }

    redraw() { for (const plot of this.plots) plot.redraw(false, true); }

    drop() {
      for (const plot of this.plots) plot.destroy();
      this.plots = [];
      this.at = null;
      this.reading.textContent = HINT;
      this.element.replaceChildren();
    }

    end() {
      this.asked += 1;
      this.watch.disconnect();
      this.drop();
      this.element.remove();
    }
  }

  const hosts = () => [...document.querySelectorAll(".picture[data-curve], .chart[data-curve]")];

  const choose = (host, word) => {
    host.classList.toggle("is-live", word === "live");
    for (const button of host.querySelectorAll(":scope > .chart-switch button")) {
      button.setAttribute("aria-pressed", String(button.textContent === word));
    }
  };

  const switchOf = () => {
    const group = make("div", "chart-switch");
    group.setAttribute("role", "group");
    group.setAttribute("aria-label", "how charts are shown");
    for (const word of ["drawn", "live"]) {
      const button = make("button", "", word);
      button.type = "button";
      button.addEventListener("click", () => {
        wanted = word;
        keep.set(word);
        attach();
      });
      group.append(button);
    }
    return group;
  };

  // What was made here is taken out before a swap, so that it is not mistaken for what comes, and
  // put back after it; what has no place any more is ended.
  const detach = () => {
    for (const live of MADE.values()) live.element.remove();
    for (const made of document.querySelectorAll(".chart-switch")) made.remove();
    for (const host of hosts()) host.classList.remove("is-live");
  };

  const attach = (isNew = false) => {
    const seen = new Set();
    for (const host of hosts()) {
      const address = host.dataset.curve;
      const drawn = host.querySelector(":scope > .drawn");
      if (!drawn || seen.has(address)) continue;
      seen.add(address);
      if (!host.querySelector(":scope > .chart-switch")) drawn.before(switchOf());
      if (wanted === "drawn") {
        choose(host, "drawn");
        continue;
      }
      const live = MADE.get(address) ?? new Live(address);
      const isStale = isNew || !MADE.has(address);
      MADE.set(address, live);
      if (live.element.parentElement !== host) drawn.after(live.element);
      choose(host, live.plots.length ? "live" : "drawn");
      if (!isStale && live.plots.length) continue;
      // Its room is measured while it is shown, but only once there is something to show.
      live.refresh().then((isThere) => {
        if (isThere && wanted === "live") {
          choose(host, "live");
          live.fit();
        }
      });
    }
    for (const [address, live] of MADE) {
      if (seen.has(address) && wanted === "live") continue;
      live.end();
      MADE.delete(address);
    }
  };

  document.addEventListener("DOMContentLoaded", () => attach());
  document.addEventListener("htmx:before:swap", detach);
  document.addEventListener("htmx:after:swap", () => attach(true));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
    for (const live of MADE.values()) live.redraw();
  });
})();
