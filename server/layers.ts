/** Map layers as GeoJSON (RFC 7946): longitude and latitude where the coordinate system is known, else survey coordinates. */
import rewind from "@turf/rewind";
import type { Feature, FeatureCollection, Geometry, Position } from "geojson";
import proj4 from "proj4";
import type { MultiPolygon, Point, Point3, Ring } from "../analysis/geometry/plane.js";
import type { Pictures } from "../analysis/pictures/pictures.js";
import { type Frame, toSurvey } from "../analysis/survey/survey.js";
import type { LayerName, StudyDocument } from "./study-document.js";

export interface Layer extends FeatureCollection {
  /** RFC 7946 §6.1 foreign member: coordinates are the survey's own. */
  frame?: "local";
}

type ToPosition = (point: Point | Point3) => Position;

/** About 1 mm. */
const DEGREE_DECIMALS = 8;
const FOOT_DECIMALS = 3;

export function layerOf(name: LayerName, study: StudyDocument, pictures: Pictures): Layer {
  const { frame } = pictures;
  const at = positionIn(frame);
  const features = FEATURES[name](study, pictures, at).map((feature) => rewind(feature) as Feature);
  return {
    type: "FeatureCollection",
    ...(frame.proj4 === null ? { frame: "local" as const } : {}),
    features,
  };
}

function positionIn(frame: Frame): ToPosition {
  const toDegrees = frame.proj4 === null ? null : proj4(frame.proj4, "WGS84");
  return ([east, north, elevFt]) => {
    const survey = toSurvey(frame, [east, north]);
    const [x, y] = toDegrees ? toDegrees.forward(survey) : survey;
    const decimals = toDegrees ? DEGREE_DECIMALS : FOOT_DECIMALS;
    const position = [round(x, decimals), round(y, decimals)];
    // RFC 7946 §3.1.1: a third number is a height in metres above the ellipsoid, which a survey does not know.
    return elevFt !== undefined && !toDegrees ? [...position, round(elevFt, 2)] : position;
  };
}

const round = (value: number, decimals: number) => Math.round(value * 10 ** decimals) / 10 ** decimals;

const closed = (ring: Ring, at: ToPosition): Position[] => [...ring, ring[0]!].map(at);
const polygon = (ring: Ring, at: ToPosition): Geometry => ({
  type: "Polygon",
  coordinates: [closed(ring, at)],
});
const polygons = (shape: MultiPolygon, at: ToPosition): Geometry => ({
  type: "MultiPolygon",
  coordinates: shape.map((rings) => rings.map((ring) => closed(ring, at))),
});
const line = (points: readonly (Point | Point3)[], at: ToPosition): Geometry => ({
  type: "LineString",
  coordinates: points.map(at),
});
const feature = (geometry: Geometry, properties: Record<string, unknown>): Feature => ({
  type: "Feature",
  geometry,
  properties: Object.fromEntries(
    Object.entries(properties).map(([name, value]) => [
      name,
      typeof value === "number" ? round(value, FOOT_DECIMALS) : value,
    ]),
  ),
});

const FEATURES: Readonly<
  Record<LayerName, (study: StudyDocument, pictures: Pictures, at: ToPosition) => Feature[]>
> = {
  boundary: ({ name, lot }, { boundary }, at) => [
    feature(polygon(boundary, at), { name, areaFt2: lot.areaFt2, perimeterFt: lot.perimeterFt }),
  ],

  contours: (_study, { contours }, at) =>
    contours
      .filter(({ lines }) => lines.length > 0)
      .map(({ elevFt, lines }) =>
        feature(
          { type: "MultiLineString", coordinates: lines.map((points) => points.map(at)) },
          { elevationFt: elevFt },
        ),
      ),

  "slope-bands": (_study, { slopeBands }, at) =>
    slopeBands
      .filter((band) => band.polygons.length > 0)
      .map(({ fromPct, toPct, polygons: shape }) => feature(polygons(shape, at), { fromPct, toPct })),

  buildable: ({ buildable }, pictures, at) =>
    pictures.buildable.length === 0
      ? []
      : [
          feature(polygons(pictures.buildable, at), {
            areaFt2: buildable.areaFt2,
            slopeLimitPct: buildable.slopeLimitPct,
          }),
        ],

  schemes: ({ schemes, recommendation }, pictures, at) =>
    pictures.schemes.flatMap(({ id, levels, cut, fill }) => {
      const { name = id, kind, feasible } = schemes.find((s) => s.id === id) ?? {};
      const own = { schemeId: id, name, kind, feasible, recommended: id === recommendation.schemeId };
      return [
        ...levels.map((level) =>
          feature(polygon(level.ring, at), {
            ...own,
            part: level.role,
            level: level.name,
            elevationFt: level.elevationFt,
            floorElevationFt: level.floorElevationFt,
          }),
        ),
        ...(cut.length > 0 ? [feature(polygons(cut, at), { ...own, part: "cut" })] : []),
        ...(fill.length > 0 ? [feature(polygons(fill, at), { ...own, part: "fill" })] : []),
      ];
    }),

  driveways: (_study, pictures, at) =>
    pictures.schemes.flatMap(({ id, drive }) =>
      drive && drive.line.length > 1
        ? [
            feature(line(drive.line, at), { schemeId: id, part: "centreline" }),
            ...(drive.footprint.length > 0
              ? [feature(polygons(drive.footprint, at), { schemeId: id, part: "surface" })]
              : []),
          ]
        : [],
    ),

  drainage: (_study, { water, schemes }, at) => [
    ...water.streams
      .filter((stream) => stream.line.length > 1)
      .map((stream) => feature(line(stream.line, at), { part: "flow", catchmentFt2: stream.catchmentFt2 })),
    ...water.depressions.map((hollow) =>
      feature(
        { type: "Point", coordinates: at(hollow.at) },
        { part: "hollow", areaFt2: hollow.areaFt2, depthFt: hollow.depthFt },
      ),
    ),
    ...schemes.flatMap(({ id, swale, drains }) => [
      ...(swale.length > 1 ? [feature(line(swale, at), { schemeId: id, part: "swale" })] : []),
      ...drains
        .filter(({ route }) => route.length > 1)
        .map(({ tier, route, gravity }) =>
          feature(line(route, at), { schemeId: id, part: "drain", tier, gravity }),
        ),
    ]),
  ],

  catchments: (study, { water, schemes }, at) => [
    ...(water.lotCatchment.length > 0
      ? [
          feature(polygons(water.lotCatchment, at), {
            part: "lot",
            areaFt2: water.lotCatchmentFt2,
            lowerBound: water.lowerBound,
          }),
        ]
      : []),
    ...schemes.flatMap(({ id, catchment }) => {
      const drainage = study.schemes.find((scheme) => scheme.id === id)?.drainage;
      return catchment.length === 0
        ? []
        : [
            feature(polygons(catchment, at), {
              part: "scheme",
              schemeId: id,
              areaFt2: drainage?.catchmentFt2,
              lowerBound: drainage?.lowerBound,
            }),
          ];
    }),
  ],

  walls: (_study, { schemes }, at) =>
    schemes.flatMap(({ id, walls }) =>
      walls
        .filter((wall) => wall.line.length > 1)
        .map((wall) =>
          feature(line(wall.line, at), {
            schemeId: id,
            kind: wall.kind,
            where: wall.where,
            retainedFt: wall.retainedFt,
            totalFt: wall.totalFt,
            lengthFt: wall.lengthFt,
          }),
        ),
    ),
};
