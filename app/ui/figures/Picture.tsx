import { dayWords } from '@/lib/run/localDate';
import type { FigureDescription, FigureDrawing } from './description';
import { kindOf } from './figureKinds';
import type { LegendItem } from './Legend';
import { paint } from './paint';
import type { PictureShape } from './pictureShape';
import type { Drawing, Frame } from './ResponsiveSvg';
import { textWidth, wrapWhole } from './textFit';

/** A figure that can be drawn. */
export type DrawnFigure = FigureDescription & { drawing: FigureDrawing };

export interface PictureWords {
  /** The address of the page that it belongs to, as a reader would type it. */
  address: string;
}

/** Family names as the shipped font files carry them; what has neither falls back to its own. */
export const SANS = "'Source Sans 3', 'Source Sans 3 Variable', 'Segoe UI', sans-serif";
export const SERIF = "'Source Serif 4', 'Source Serif 4 Variable', Georgia, serif";

interface Sheet {
  text: number;
  width: number;
  height: number;
  parts: Drawing[];
}

/** Width of the drawing where the picture may be as tall as it needs. */
const FREE_WIDTH = 920;

/** Everything that the figure says in one picture of its natural height, for an SVG file. */
export function FreePicture({ figure, words }: { figure: DrawnFigure; words: PictureWords }) {
  const sheet = layOut(figure, words, { width: FREE_WIDTH, compact: false });
  return <SheetSvg figure={figure} sheet={sheet} width={sheet.width} height={sheet.height} />;
}

/** The same in a fixed shape: enlarged as far as everything still fits; rows that do not fit are counted in words. */
export function ShapedPicture({
  figure,
  words,
  shape,
}: {
  figure: DrawnFigure;
  words: PictureWords;
  shape: PictureShape;
}) {
  const sheet = fitted(figure, words, shape);
  return <SheetSvg figure={figure} sheet={sheet} width={shape.width} height={shape.height} />;
}

function fitted(figure: DrawnFigure, words: PictureWords, shape: PictureShape): Sheet {
  const { compact } = shape;
  let most = 0;
  for (const width of shape.layouts) {
    most = (width * shape.height) / shape.width;
    const sheet = layOut(figure, words, { width, compact, height: most });
    if (sheet.height <= most) return { ...sheet, height: most };
  }
  const width = shape.layouts[shape.layouts.length - 1] ?? shape.width;
  const { rows } = kindOf(figure.drawing);
  const all = rows?.count(figure.drawing) ?? 0;
  for (let count = all - 1; rows && count > 0; count -= 1) {
    const part = {
      ...figure,
      drawing: rows.first(figure.drawing, count),
      counts: `${figure.counts} · the first ${count} of ${all} rows; all are in the table`,
    };
    const sheet = layOut(part, words, { width, compact, height: most });
    if (sheet.height <= most) return { ...sheet, height: most };
  }
  // Nothing to leave out: everything smaller, on a larger sheet of the same shape, and laid out over all of it.
  const free = layOut(figure, words, { width, compact });
  const scale = Math.max(1, free.height / most);
  const larger = { width: width * scale, height: most * scale };
  const spread = layOut(figure, words, { ...larger, compact });
  return spread.height <= larger.height + 1 ? { ...spread, ...larger } : { ...free, ...larger };
}

function layOut(
  figure: DrawnFigure,
  words: PictureWords,
  { width, compact, height }: { width: number; compact: boolean; height?: number },
): Sheet {
  const margin = compact ? 20 : 28;
  const frame: Frame = { width: width - 2 * margin, compact, text: compact ? 13 : 14, mark: figure.mark };
  const { draw, legend } = kindOf(figure.drawing);
  const title = textLines(
    wrapWhole(figure.title, frame.width, TITLE_SIZE * SERIF_WIDTH),
    TITLE_SIZE,
    'title',
  );
  const marks = legendLines(legend(figure.drawing), frame);
  const foot = footLines(figure, words, frame);
  const around = title.height + marks.height + foot.height + 2 * margin + 3 * GAP;
  const room = height === undefined ? undefined : height - around;
  const drawing = draw({ ...frame, ...(room === undefined ? {} : { room }) }, figure.drawing);
  const slack = Math.max(0, (room ?? drawing.height) - drawing.height);
  const parts: Drawing[] = [];
  let y = margin;
  const put = ({ height: own, content }: Drawing) => {
    parts.push({ height: y, content: <g transform={`translate(${margin} ${y})`}>{content}</g> });
    y += own + GAP;
  };
  put(title);
  put(marks);
  // What is left over stands half over and half under the drawing.
  y += slack / 2;
  put(drawing);
  y += slack / 2;
  put(foot);
  return { text: frame.text, width, height: y - GAP + margin, parts };
}

const GAP = 12;
const TITLE_SIZE = 22;
/** Letters of the serif face at weight 600 against those of the sans at 400 (measured in the shipped files). */
const SERIF_WIDTH = 1.14;

function textLines(lines: readonly string[], size: number, kind: 'title' | 'foot'): Drawing {
  const line = Math.round(size * 1.28);
  const face = kind === 'title' ? { fontFamily: SERIF, fontWeight: 600 } : { fill: paint['ink-soft'] };
  const content = lines.map((words, index) => (
    <text key={words} y={size + index * line} fontSize={size} {...face}>
      {words}
    </text>
  ));
  return { height: size * 0.3 + lines.length * line, content };
}

/** Marks and words in as many lines as they need. */
function legendLines(items: readonly LegendItem[], frame: Frame): Drawing {
  const size = frame.text;
  let x = 0;
  let line = 0;
  const placed = items.map((item) => {
    const words = wrapWhole(item.label, frame.width - MARK_WIDTH, size);
    const width = MARK_WIDTH + Math.max(...words.map((one) => textWidth(one, size)));
    if (x > 0 && x + width > frame.width) {
      x = 0;
      line += 1;
    }
    const at = { x, y: line * (size + 8) };
    x += width + 22;
    line += words.length - 1;
    return { ...item, words, at };
  });
  const content = placed.map(({ label, mark, words, at }) => (
    <g key={label} transform={`translate(${at.x} ${at.y})`}>
      <g transform={`translate(0 ${size / 2 - 3})`}>{mark}</g>
      {words.map((one, index) => (
        <text key={one} x={MARK_WIDTH} y={size + index * (size + 8)} fill={paint['ink-soft']}>
          {one}
        </text>
      ))}
    </g>
  ));
  return { height: items.length === 0 ? 0 : (line + 1) * (size + 8), content };
}

const MARK_WIDTH = 36;

/** What it rests on, where it stands and as of which day, and whether the data are invented. */
function footLines(
  { counts, source, isDemo }: FigureDescription,
  words: PictureWords,
  frame: Frame,
): Drawing {
  const size = frame.text - 1;
  const said = [
    counts,
    `Evenloop · as of ${dayWords(source.asOf)}`,
    words.address,
    ...(isDemo ? ['Demo world: invented data.'] : []),
  ];
  const { height, content } = textLines(
    said.flatMap((text) => wrapWhole(text, frame.width, size)),
    size,
    'foot',
  );
  return {
    height: height + 8,
    content: (
      <>
        <path d={`M0 0H${frame.width}`} stroke={paint['rule-strong']} />
        <g transform="translate(0 8)">{content}</g>
      </>
    ),
  };
}

interface SheetSvgProps {
  figure: DrawnFigure;
  sheet: Sheet;
  width: number;
  height: number;
}

function SheetSvg({ figure, sheet, width, height }: SheetSvgProps) {
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      width={width}
      height={Math.ceil(height)}
      viewBox={`0 0 ${sheet.width} ${Math.ceil(sheet.height * 100) / 100}`}
      role="img"
      aria-labelledby="figure-title figure-desc"
      fontFamily={SANS}
      fontSize={sheet.text}
      fill={paint.ink}
    >
      <title id="figure-title">{figure.title}</title>
      <desc id="figure-desc">{figure.desc}</desc>
      <rect width={sheet.width} height={sheet.height + 1} fill={paint.paper} />
      {sheet.parts.map(({ height: y, content }) => (
        <g key={y}>{content}</g>
      ))}
    </svg>
  );
}
