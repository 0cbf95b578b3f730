// What the report's page does when scripts may run: draws the charts, folds their tables, saves
// pictures, data and files. Without it everything is there as tables.
import {Error as warnings_off, parse, View} from 'vega';
import {expressionInterpreter} from 'vega-interpreter';
import {compile} from 'vega-lite';

// Eight colours that readers with any colour vision tell apart: M. Okabe, K. Ito, Color universal
// design (2008). Their yellow is too pale on white and stands last; the first is the text's own.
const palette = ['#0072b2', '#e69f00', '#009e73', '#cc79a7', '#56b4e9', '#d55e00', '#b8a900'];
const dashes = [[1, 0], [7, 3], [2, 2], [9, 3, 2, 3], [5, 5], [1, 4], [12, 3], [3, 1]];
const shapes = ['circle', 'square', 'triangle-up', 'diamond', 'cross', 'triangle-down',
  'triangle-right', 'triangle-left'];
const faces = 'system-ui, "Segoe UI", Helvetica, Arial, sans-serif';

const slide = {width: 1920, height: 1080, enlarged: 2};
const narrow = 520;  // below: legends under one another, fewer ticks

const light = {ink: '#1f2526', soft: '#5b6466', rule: '#d9dcda', paper: '#ffffff', band: '#e7ece9'};
const dark = {ink: '#e6e7e3', soft: '#a9b1b0', rule: '#3b4344', paper: '#15191a', band: '#2a3133'};
const dark_wanted = matchMedia('(prefers-color-scheme: dark)');
const printing = matchMedia('print');
const theme = () => (dark_wanted.matches && !printing.matches ? dark : light);

function look(colours, narrow_page) {
  const text = {labelColor: colours.ink, titleColor: colours.ink, labelFont: faces, titleFont: faces};
  return {
    background: null,
    font: faces,
    numberFormat: '~r',
    aria: false,
    view: {stroke: null},
    axis: {...text, gridColor: colours.rule, domainColor: colours.soft, tickColor: colours.soft,
      titleFontWeight: 'normal', labelFontSize: 11, titleFontSize: 12, labelLimit: narrow_page ? 120 : 260,
      titlePadding: 8, labelOverlap: 'greedy', labelSeparation: 8, tickCount: narrow_page ? 4 : 8, titleLimit: narrow_page ? 260 : 600},
    axisX: {titleAnchor: 'middle'},
    legend: {...text, orient: 'top', direction: narrow_page ? 'vertical' : 'horizontal',
      labelLimit: 220, labelFontSize: 11, titleFontSize: 11, titleFontWeight: 'normal',
      symbolStrokeWidth: 2, symbolOpacity: 1, columnPadding: 16, titleLimit: 220},
    range: {category: [colours.ink, ...palette], symbol: shapes},
    style: {mark_text: {fill: colours.ink, font: faces, fontSize: 11}},
  };
}

function fill(node, inserts) {
  if (Array.isArray(node)) return node.map((child) => fill(child, inserts));
  if (node && typeof node === 'object')
    return Object.fromEntries(Object.entries(node).map(([key, value]) => [key, fill(value, inserts)]));
  return typeof node === 'string' && node in inserts ? inserts[node] : node;
}

// Panels under one another on one axis. Each is given its part of the height; all leave the same
// room on their left, so that their axes stand under one another.
const beside_panel = 76;
function panels({vconcat, usermeta}, width, height) {
  const sum = usermeta.heights.reduce((one, other) => one + other);
  const room = (height ?? sum + 44 * vconcat.length + 40) - 44 * vconcat.length - 40;
  return {vconcat: vconcat.map((panel, i) => ({...panel, width: width - beside_panel - 12,
    height: Math.max(40, (room * usermeta.heights[i]) / sum)})), autosize: {type: 'pad'}, bounds: 'flush'};
}

// A drawing at a size. What the chart counts in rows is as tall as these need.
function view_of(chart, width, height, colours, title) {
  const narrow_page = width < narrow;
  const drawing = fill(chart.drawing, {'<ink>': colours.ink, '<soft>': colours.soft,
    '<paper>': colours.paper, '<band>': colours.band, '<rule>': colours.rule, '<dashes>': dashes});
  const rows = drawing.usermeta?.rows;
  const counted = rows ? new Set(chart.values.map((row) => row[rows])).size : 0;
  const spec = compile({
    ...drawing,
    data: {values: chart.values},
    ...(drawing.vconcat ? panels(drawing, width, height) : {
      width,
      height: height ?? (counted ? Math.max(140, 90 + counted * (drawing.usermeta.row_height ?? 24)) : 340),
      autosize: {type: 'fit', contains: 'padding', resize: false},
    }),
    padding: 4,
    ...(title ? {title: {text: title, anchor: 'start', color: colours.ink, font: faces, fontSize: 16,
      limit: width - 20, offset: 12}} : {}),
    config: look(colours, narrow_page),
  }, {logger: quiet}).spec;
  return new View(parse(spec, null, {ast: true}), {expr: expressionInterpreter, logLevel: warnings_off});
}

// Vega-Lite's remarks about drawings are for whoever writes these; errors still throw.
const quiet = {level: () => quiet, error: () => quiet, warn: () => quiet, info: () => quiet,
  debug: () => quiet};

const tip = Object.assign(document.createElement('div'), {className: 'tip', hidden: true});
tip.setAttribute('role', 'status');
document.body.append(tip);
function show_tip(handler, event, item, value) {
  tip.hidden = value === null || value === undefined || value === '';
  if (tip.hidden) return;
  tip.textContent = typeof value === 'object'
    ? Object.entries(value).map(([name, one]) => `${name}: ${one}`).join('\n') : String(value);
  const room = document.documentElement.clientWidth - tip.offsetWidth - 12;
  tip.style.left = `${Math.max(4, Math.min(event.clientX + 14, room))}px`;
  tip.style.top = `${event.clientY + 18}px`;
}

function save(name, blob) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

async function slide_svg(chart) {
  const view = view_of(chart, slide.width / slide.enlarged, slide.height / slide.enlarged, light,
    chart.title);
  const svg = new DOMParser().parseFromString(await view.toSVG(), 'image/svg+xml').documentElement;
  view.finalize();
  svg.setAttribute('viewBox', `0 0 ${svg.getAttribute('width')} ${svg.getAttribute('height')}`);
  svg.setAttribute('width', slide.width);
  svg.setAttribute('height', slide.height);
  const paper = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
  for (const [name, value] of Object.entries({width: '100%', height: '100%', fill: light.paper}))
    paper.setAttribute(name, value);
  svg.prepend(paper);
  return new XMLSerializer().serializeToString(svg);
}

async function slide_png(chart) {
  const address = URL.createObjectURL(new Blob([await slide_svg(chart)], {type: 'image/svg+xml'}));
  const image = new Image();
  image.src = address;
  await image.decode();
  const canvas = Object.assign(document.createElement('canvas'), {width: slide.width, height: slide.height});
  canvas.getContext('2d').drawImage(image, 0, 0, slide.width, slide.height);
  URL.revokeObjectURL(address);
  return new Promise((done) => canvas.toBlob(done, 'image/png'));
}

// RFC 4180; a text that a spreadsheet could take for a formula gets an apostrophe in front.
function csv_of(chart) {
  const head = (field) => {
    const [, name, end] = field.match(/^(.*?)(_low|_high)?$/);
    return (chart.heads[name] ?? name) + (end ? end.replace('_', ', ') : '');
  };
  const cell = (value) => {
    if (value === null || value === undefined) return '';
    if (typeof value === 'number') return String(value);
    const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
    return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  };
  const lines = [chart.columns.map((column) => cell(head(column))),
    ...chart.rows.map((row) => row.map(cell))];
  return lines.map((line) => line.join(',')).join('\r\n') + '\r\n';
}

function button(text, what, action) {
  const made = Object.assign(document.createElement('button'), {type: 'button', textContent: text});
  made.setAttribute('aria-label', what);
  made.addEventListener('click', action);
  return made;
}

function set_up(figure) {
  const chart = JSON.parse(figure.querySelector('script').textContent);
  chart.values = chart.rows.map((row) => Object.fromEntries(row.map((value, i) => [chart.columns[i], value])));
  const plot = figure.querySelector('.plot');
  let drawn = null;
  const draw = () => {
    drawn?.finalize();
    plot.replaceChildren();
    drawn = view_of(chart, Math.min(plot.clientWidth, 900), null, theme());
    drawn.tooltip(show_tip).renderer('svg').initialize(plot).hover().run();
    plot.querySelector('svg').setAttribute('aria-hidden', 'true');  // the plot's own label speaks
  };
  draw();
  const bar = figure.querySelector('.save');
  bar.append('Save as ',
    button('SVG', `Save "${chart.title}" as SVG`,
      async () => save(`${figure.id}.svg`, new Blob([await slide_svg(chart)], {type: 'image/svg+xml'}))),
    button('PNG', `Save "${chart.title}" as PNG`, async () => save(`${figure.id}.png`, await slide_png(chart))),
    button('CSV', `Save the figures of "${chart.title}" as CSV`,
      () => save(`${figure.id}.csv`, new Blob([csv_of(chart)], {type: 'text/csv'}))));
  bar.hidden = false;
  figure.querySelector('details').open = false;
  return draw;
}

function offer(file) {
  const code = file.querySelector('code');
  if (!code) return;
  const name = code.dataset.file.split('/').pop();
  const content = () => (code.dataset.encoding === 'base64'
    ? Uint8Array.from(atob(code.textContent), (c) => c.charCodeAt(0)) : code.textContent);
  const bar = file.querySelector('.save');
  bar.append(button('Save this file', `Save ${name}`, () => save(name, new Blob([content()]))));
  bar.hidden = false;
}

const redraws = [...document.querySelectorAll('figure.chart')].map(set_up);
document.querySelectorAll('details.file').forEach(offer);
const redraw = () => redraws.forEach((draw) => draw());
dark_wanted.addEventListener('change', redraw);
printing.addEventListener('change', redraw);
let width = innerWidth;
let waiting = 0;
addEventListener('resize', () => {
  if (innerWidth === width) return;
  width = innerWidth;
  clearTimeout(waiting);
  waiting = setTimeout(redraw, 150);
});
document.documentElement.dataset.drawn = String(redraws.length);
