// What is missing, what a later step will need, what to mind: asks the rules that the page
// carries (shop/surveys/engine/asks.py, cautions.py) of the facts that shop/surveys/reports/
// before.py finds. Both are held to tests/vectors/leave.json.

const is = (words) => (one) => words.includes(one) || (one && words.includes("*"));
const holds = (when, facts) =>
  Object.entries(when).every(([name, words]) => [facts[name] ?? ""].flat().some(is(words)));
const filled = (words, facts) => words.replace(/\{(\w+)\}/g, (_, name) => facts[name]);

/** Say all that is asked, group by group, of the facts of each record of its kind. */
export function asked(groups, records) {
  return groups.flatMap(([kind, asks]) => {
    const [said, named] = [[], new Map()];
    for (const facts of records[kind] ?? []) {
      for (const [words] of asks.filter(([, when]) => holds(when, facts))) {
        if (words.includes("{names}")) named.set(words, [...(named.get(words) ?? []), facts.name]);
        else said.push(filled(words, facts));
      }
    }
    return [...said, ...[...named].map(([words, names]) => filled(words, { names: names.join(", ") }))];
  });
}

const read = (ticks) => (ticks === undefined ? "" : "read");
const yes = (known) => (known ? "yes" : "");

/** The facts of each record, by kind. */
export function factsOf(room) {
  const { survey, walls, site, beams } = room;
  const on = (list, ceiling) => [...ceiling.map((one) => ["the ceiling", one]), ...walls.flatMap((wall) => wall[list].map((one) => [`wall ${wall.name}`, one]))];
  return {
    room: [{ use: room.room.use, photo: yes(room.hasPhoto) }],
    site: [{ year_built: yes(Number(site.year_built)), tenure: site.tenure, narrowest_door: read(site.narrowest_door) }],
    survey: [{
      shape: survey.shape,
      height: read(survey.height),
      corners: walls.filter(({ height }) => height).length < 3 ? "few" : "enough",
      construction: survey.construction,
      found: yes(room.members.length),
    }],
    wall: walls.map((wall) => ({
      name: wall.name,
      length: wall.length ? "read" : wall.known ? "opposite" : "",
      corner: wall.corner,
      diagonal: read(wall.diagonal),
      angle: yes(wall.isAngled),
      height: read(wall.height),
      construction: wall.construction,
      shape: survey.shape,
      found: yes(wall.members.length),
    })),
    opening: walls.flatMap(({ openings }) => openings).map((one) => ({
      name: one.label,
      kind: one.kind,
      from_left: read(one.from_left),
      sill: read(one.sill),
      size: yes(one.isRead),
      gets_panel: one.gets_panel,
      reveal: read(one.reveal),
      panel_depth: read(one.panel_depth),
      glazed: yes(one.glass && one.faces),
    })),
    zone: on("zones", room.zones).map(([where, { kindLabel: name, left, bottom, width, height }]) => ({
      name,
      where,
      place: yes(left !== undefined && bottom !== undefined),
      size: yes(width && height),
    })),
    member: on("members", room.members).map(([where, { at }]) => ({
      name: where === "the ceiling" ? "joist" : "stud",
      where,
      at: read(at),
    })),
    beam: beams.map(({ label: name, length, width, drop }) => ({ name, size: yes(length && width && drop) })),
  };
}

/** What to mind, as [title, text]: in the room, then on its site. */
export function cautionsOf({ survey, room, site, walls, zones }, { cautions, oldBefore }) {
  const windows = walls.flatMap(({ openings }) => openings).filter(({ kind }) => kind === "window");
  const panes = windows.filter((one) => one.gets_panel);
  const isShared = ["work", "public"].includes(site.setting);
  const facts = {
    escape: yes(room.sleeping && windows.length),
    panes: yes(panes.length),
    hot: yes(panes.some(({ glass, faces }) => glass === "sealed" || faces)),
    heated: yes(survey.heated || walls.some(({ heated }) => heated)),
    ceiling: survey.construction,
    surfaces: [survey.construction, ...walls.map(({ construction }) => construction)],
    zones: [...zones, ...walls.flatMap((wall) => wall.zones)].map(({ kind }) => kind),
    tenant: yes(site.tenure === "tenant"),
    papers: yes(site.tenure === "tenant" || isShared),
    old: yes(!site.year_built || Number(site.year_built) < oldBefore),
  };
  return cautions.filter(([when]) => holds(when, facts)).map(([, title, text]) => [title, text]);
}

