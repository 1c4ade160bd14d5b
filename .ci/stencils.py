"""A layout of n half-inch stencils on a tube, in rows of twelve; with tapes it has hardpoints."""


def stencils(n, tapes):
    points = """  hardpoints:
    - {id: P1, name: bolt, fs: 5, bl: 34.6, wl: 20}
    - {id: P2, name: bolt, fs: 5, bl: 34.6, wl: -20}
    - {id: P3, name: bolt, fs: 690, bl: 34.6, wl: 20}
    - {id: P4, name: bolt, fs: 690, bl: 34.6, wl: -20}
""" if tapes else ""
    rows = 12
    items = "\n".join(f"    - {{id: s-{i}, text: NO STEP, where: {{fs: {20 + 7 * (i // rows)}, wl: {-16.5 + 3 * (i % rows)}}}}}" for i in range(n))
    return f"""name: {n} stencils
units: in
aircraft:
  name: Tube (invented)
  datum: FS 0 is the nose, positive aft; WL 0 is the axis, positive up
  surfaces:
    - {{id: body, kind: round, sections: [{{fs: 0, radius: 40, wl: 0}}, {{fs: 700, radius: 40, wl: 0}}]}}
{points}paint: {{order: [black], colours: {{black: {{hex: "#101010"}}}}}}
stencils:
  figure: {{alphabet: block-6x4, height: 1/2 in, islands: tape}}
  where: {{surface: body, side: left}}
  colours: {{text: black}}
  list:
{items}
"""
