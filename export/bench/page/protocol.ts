// Written by `go generate ./export/bench` from protocol.go and protocolview.go.

export const VERSION = 1;

export interface Request {
  v: number;
  id: number;
  ask: string;
  of?: string;
  tab?: string;
  path?: string;
  value?: string;
  yaml?: string;
  remove?: string;
  add?: string;
  duplicate?: string;
  as?: string;
  splice?: Splice;
  label?: string;
  group?: string;
  number?: number;
  list?: string;
  name?: string;
  text?: string;
  found?: Finding[];
  data?: string;
  disk?: string;
  marking?: string;
  exact?: boolean;
  after?: string;
  on?: string;
  nation?: string;
  service?: string;
  place?: string;
  finish?: string;
  kind?: string;
  types?: string[];
  rule?: string;
  size?: string;
  readings?: ReadingAsked[];
  csv?: string;
  pixels?: Point2[];
  within?: number[];
  edges?: EdgeAsked[];
  spots?: SpotAsked[];
  to?: string;
}

export interface Splice {
  from: number;
  to: number;
  insert: string;
}

export interface Finding {
  key: string;
  level: string;
  rule: string;
  marking: string;
  at: Point3;
  message: string;
  hint?: string;
  proposals?: Proposal[];
  measured?: string;
  expected?: string;
  tolerance?: string;
  source: string;
}

export type Point3 = [number, number, number];

export interface Proposal {
  path: string;
  value: string;
  why: string;
}

export interface ReadingAsked {
  point: string;
  from: string;
  kind?: string;
  reads: string;
}

export type Point2 = [number, number];

export interface EdgeAsked {
  at: Point2;
  along: Point2;
  off: number;
  turn: number;
  round: boolean;
  tone: number;
}

export interface SpotAsked {
  name: string;
  at: Point2;
  pixel: Point2;
  within: number;
}

export interface Answer {
  id: number;
  of?: string;
  part?: string;
  done?: boolean;
  body?: unknown;
  step?: number;
  n?: number;
  say?: string;
  error?: Error;
}

export interface Error {
  code: string;
  message: string;
  at?: At;
  excerpt?: string;
  hint?: string;
}

export interface At {
  file: string;
  line: number;
  column: number;
}

export interface Hello {
  version: number;
  program: string;
  engine: string;
  name: string;
  can: string[];
  body: number;
  asks: number;
}

export interface Opened {
  name: string;
  text: string;
  hash: string;
  disk: string;
  file: string;
  problems: Problem[];
  units: string;
  undo: string[];
  redo: string[];
  draft?: Draft;
}

export interface Problem {
  at: At;
  message: string;
  excerpt?: string;
  hint?: string;
}

export interface Draft {
  text: string;
  hash: string;
  disk: string;
}

export interface Edited {
  splice: Splice;
  inverse: Splice;
  hash: string;
  problems: Problem[];
  touched: string[];
  all: boolean;
  label: string;
  undo: string[];
  redo: string[];
  taken?: Offer;
}

export interface Offer {
  number: number;
  name: string;
  key: string;
  marking: string;
  rule: string;
  path: string;
  value: string;
  why: string;
}

export interface Saved {
  disk: string;
  first: string;
  file: string;
}

export interface Told {
  edited?: Edited;
  file?: string;
  disk?: string;
  tab?: string;
}

export interface DraftKept {
  data: string;
  hash: string;
}

export interface Disk {
  file: string;
  disk: string;
  text: string;
}

export interface Beside {
  data: string;
}

export interface Findings {
  list: string;
  findings: Finding[];
  offers: Offer[];
  gone: Finding[];
  fresh: string[];
}

export interface Packed {
  name: string;
  files: PackedFile[];
  manifest: string;
  zip?: string;
}

export interface PackedFile {
  name: string;
  size: number;
}

export interface Skins {
  skins: Skin[];
}

export interface Skin {
  id: string;
  surface: string;
  kind: string;
  side: string;
  face?: string;
  mirror: boolean;
  closed: boolean;
  u: number[];
  v: number[];
  panelsU: number[];
  panelsV: number[];
  xyz: number[];
  within: number;
  lines: Record<string, number>;
  outlines: Point2[][];
  chords?: Chord[];
}

export interface Chord {
  fore: number;
  aft: number;
}

export interface Scene {
  name: string;
  aircraft: string;
  datum: string;
  units: string;
  min: Point3;
  max: Point3;
  stations: SceneFrame[];
  lines: SceneLine[];
  obstacles: SceneBar[];
  hardpoints: ScenePoint[];
  pegs: ScenePoint[];
  profile: SceneShape[];
  ground?: SceneGround;
  paints: Paint[];
  coats: Record<string, string>;
  edge: number;
  evidence: ScenePlace[];
  rules: SceneRules;
  photos: ScenePhoto[];
  web: number;
  skipped: SceneReason[];
}

export interface SceneFrame {
  surface: string;
  at: number;
  points: Point3[];
}

export interface SceneLine {
  surface: string;
  name: string;
  points: Point3[];
}

export interface SceneBar {
  id: string;
  kind: string;
  surface: string;
  side: string;
  face?: string;
  at?: Point3;
  size: number;
  clear: number;
  closed: boolean;
  points: Point3[];
  line?: string;
}

export interface ScenePoint {
  id: string;
  name: string;
  side: string;
  at: Point3;
  measured: boolean;
}

export interface SceneShape {
  id: string;
  closed: boolean;
  points: Point2[];
}

export interface SceneGround {
  angle: number;
  main: Point2;
  tail: Point2;
}

export interface Paint {
  id: string;
  name: string;
  hex: string;
}

export interface ScenePlace {
  id: string;
  class: string;
  what: string;
}

export interface SceneRules {
  date: string;
  nation: string;
  service: string;
  finish: string;
  types: string[];
}

export interface ScenePhoto {
  id: string;
  file: string;
}

export interface SceneReason {
  id: string;
  why: string;
}

export interface Markings {
  markings: Marking[];
}

export interface Marking {
  id: string;
  path: string;
  line: number;
  kind: string;
  rule?: string;
  text?: string;
  alphabet?: string;
  size?: number;
  height?: number;
  surfaces: string[];
  side: string;
  face?: string;
  true: string;
  hold: string;
  align: string;
  angle: number;
  baseline: string;
  held: string;
  fs: number;
  wl: number;
  bl: number;
  from?: string;
  down?: number;
  to?: string;
  evidence: string[];
  placed: Placed[];
}

export interface Placed {
  id: string;
  side: string;
  skin: string;
  anchor: Point3;
  right: Point3;
  up: Point3;
  out: Point3;
}

export interface Figures {
  figures: Figure[];
}

export interface Figure {
  id: string;
  marking: string;
  side: string;
  regions: Region[];
  bounds: Box;
  characters: Character[];
}

export interface Region {
  paint: string;
  hex: string;
  d: string;
}

export type Box = [number, number, number, number];

export interface Character {
  rune: string;
  cell: Box;
}

export interface Outlines {
  exact: boolean;
  within: number;
  outlines: Outline[];
}

export interface Outline {
  id: string;
  side: string;
  paint: string;
  hex: string;
  lines: Point3[][];
}

export interface Films {
  films: Film[];
}

export interface Film {
  id: string;
  side: string;
  exact: boolean;
  field: Box;
  regions: Region[];
  strain: Strain;
  outlineError: number;
  height: number;
  sideHeight: number;
  passes: Pass[];
  marks: FilmMark[];
  clearances: Clearance[];
}

export interface Strain {
  least: number;
  most: number;
  advice: string;
  grid?: StrainGrid;
}

export interface StrainGrid {
  x0: number;
  y0: number;
  dx: number;
  dy: number;
  columns: number;
  rows: number;
  values: (number | null)[];
}

export interface Pass {
  id: string;
  paint: string;
  hex: string;
  keeps?: string;
  polarity: string;
  role: string;
  coats: number;
  d: string;
  field: Box;
  area: number;
  opening: number;
  islands: number;
  tiles: FilmTile[];
  paper: Box[];
  seams: FilmSeam[];
}

export interface FilmTile {
  id: string;
  rect: Box;
  d: string;
}

export interface FilmSeam {
  upright: boolean;
  at: number;
}

export interface FilmMark {
  id: string;
  at: Point2;
  skin: Point3;
}

export interface Clearance {
  obstacle: string;
  distance: number;
  limit: number;
  at: Point3;
}

export interface Run {
  web: number;
  usable: number;
  length: number;
  waste: number;
  films: RunFilm[];
  stretches: Point2[];
}

export interface RunFilm {
  id: string;
  number: number;
  rect: Box;
  across: boolean;
}

export interface RuleFigure {
  id: string;
  name: string;
  size: number;
  bounds: Box;
  regions: Region[];
  why?: string;
}

export interface Alphabets {
  alphabets: RuleFigure[];
}

export interface Examples {
  examples: Example[];
}

export interface Example {
  id: string;
  name: string;
  text: string;
}

export interface Drawing {
  pages: DrawingPage[];
  file?: string;
}

export interface DrawingPage {
  name: string;
  width: number;
  height: number;
  bounds: Box;
  regions: Region[];
  recognised: Recognised[];
}

export interface Recognised {
  rule: string;
  name: string;
  size: number;
  says: string;
}

export interface PhotoSeen {
  camera: CameraSeen;
  points: PointSeen[];
  suspect: number;
  chiSquare: number;
  without: number;
  freedom: number;
  findings: Finding[];
  places: PlaceSeen[];
  length?: LengthSeen;
  edges: PlaceSeen[];
  width?: WidthSeen;
}

export interface CameraSeen {
  at: Point3;
  right: Point3;
  down: Point3;
  ahead: Point3;
  focal: number;
  found: boolean;
  principal: Point2;
  k1: number;
  mirrored: boolean;
}

export interface PointSeen {
  name: string;
  pixel: Point2;
  left: Point2;
  standard: number;
}

export interface PlaceSeen {
  pixel: Point2;
  on?: string;
  side?: string;
  at: Point3;
  in95: Point2[];
  slant: number;
  why?: string;
}

export interface LengthSeen {
  along: number;
  skin95: Point2;
  air: number;
  air95: Point2;
}

export interface WidthSeen {
  length: LengthSeen;
  round: boolean;
  askew: number;
  sure: number;
  tones: number;
  why?: string;
}

export interface TraceSeen {
  points: PointSeen[];
  suspect: number;
  chiSquare: number;
  without: number;
  freedom: number;
  side: string;
  places: TracedPlace[];
  length: number;
  length95: Point2;
}

export interface TracedPlace {
  pixel: Point2;
  at: Point2;
  in95: Point2[];
  why?: string;
}
