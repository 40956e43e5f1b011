import type {ShaftAssignment} from "../rack/assignShafts.ts";
import type {OrderShafts} from "../rack/rankShafts.ts";
import {shown} from "../report/quantity.ts";
import type {Figure} from "./figure.ts";
import {fitText, fitTitle} from "./fitText.ts";

/** Most orders that are drawn: the earliest promised. */
const most = 24;

/** A shaft on the rack as it is. */
export interface FreeShaft {
  square: string;
  species: string;
  massG: number;
}

/** One weight that an order asks for, and the shaft that it gets. */
interface Asked {
  order: string;
  wantedBy: string;
  species: string;
  lowG: number | undefined;
  highG: number | undefined;
  square: string;
  massG: number | undefined;
  massLow: number | undefined;
  massHigh: number | undefined;
  fitting: number;
}

/** The weights that open orders ask for, a line each, with the shaft that each gets; above them the free shafts of the species. */
export function shaftsForOrders(
  ranked: readonly OrderShafts[],
  {given}: Pick<ShaftAssignment, "given">,
  free: readonly FreeShaft[],
  {asOf}: {asOf: string}
): Figure {
  const naming = ranked.filter(({order}) => order.massMinG !== undefined || order.massMaxG !== undefined);
  const species = [...new Set(naming.slice(0, most).map(({order}) => order.species))].sort();
  const asked = naming.slice(0, most).flatMap(({order, shafts}) =>
    given
      .filter((one) => one.order === order.order)
      .map(({unit, square, look}): Asked => {
        const mass = square === undefined || look ? undefined : shafts.find((one) => one.square === square)?.mass;
        return {
          order: order.lacking > 1 ? `${order.order} (${unit})` : order.order,
          wantedBy: order.wantedBy ?? "–",
          species: order.species,
          lowG: order.massMinG,
          highG: order.massMaxG,
          square: square === undefined ? "none" : look ? `${square} ?` : square,
          massG: mass?.massG,
          massLow: mass?.lowG,
          massHigh: mass?.highG,
          fitting: shafts.filter(({state}) => state === "fits").length
        };
      })
  );
  const rack = free.filter((one) => species.includes(one.species));
  const masses = rack.map(({massG}) => massG).sort((a, b) => a - b);
  const served = asked.filter(({massG}) => massG !== undefined).length;
  const rackRow = (name: string) => `${name}, free`;
  const domain = species.flatMap((name) => [
    rackRow(name),
    ...asked.filter((one) => one.species === name).map(({order}) => order)
  ]);
  return {
    id: "shafts-for-orders",
    title:
      asked.length === 0
        ? "No open order names a weight"
        : fitTitle(
            `${served} of ${asked.length} weights asked for are on the rack`,
            "Shafts owed by weight, and the rack"
          ),
    subtitle: `Weight asked for by open orders and weight of the free shafts, g, ${asOf}${naming.length > most ? `; the ${most} orders promised first` : ""}`,
    alt:
      asked.length === 0
        ? "No data: no open order names a weight."
        : `A line for each of ${asked.length} shafts owed, from the lightest to the heaviest that the order takes, and a dot on it for the shaft it gets; ${asked.length - served} get none. Free shafts weigh from ${shown(masses[0], "g")} to ${shown(masses.at(-1), "g")}, ${masses.length} in all.`,
    method: "how-orders",
    note: "Lines: what the order takes; one that goes on to the edge has no limit there. Dots on them: the shaft it gets, cut to the order. Rows of ticks: free shafts as they are.",
    table: {
      id: "shafts-for-orders-data",
      caption: "Weights asked for and the shafts that open orders get",
      columns: [
        {key: "order", heading: "Order", unit: "text"},
        {key: "wantedBy", heading: "Promised", unit: "date"},
        {key: "species", heading: "Species", unit: "text"},
        {key: "lowG", heading: "Lightest", unit: "g"},
        {key: "highG", heading: "Heaviest", unit: "g"},
        {key: "square", heading: "Shaft", unit: "text"},
        {key: "massG", heading: "Weight", unit: "g", low: "massLow", high: "massHigh"},
        {key: "fitting", heading: "Shafts that fit", unit: "count"}
      ],
      rows: asked.map((row) => ({...row})),
      note: "In brackets the 95\u00a0% interval of the weight once it is cut to the order."
    },
    plot: ({narrow}, Plot) => {
      const all = [...masses, ...asked.flatMap(({lowG, highG}) => [lowG, highG])].filter((one) => one !== undefined);
      const [low, high] = [Math.min(...all) - 5, Math.max(...all) + 5];
      const left = narrow ? 104 : 150;
      return {
        height: 60 + domain.length * 22,
        marginLeft: left,
        marginRight: 16,
        x: {label: "weight, g →", domain: [low, high], grid: true, ticks: narrow ? 4 : 8},
        y: {
          label: null,
          type: "band",
          domain,
          tickSize: 0,
          tickFormat: (label: string) => fitText(label, left - 14, 12)
        },
        marks: [
          Plot.tickX(rack, {
            x: "massG",
            y: ({species: name}: FreeShaft) => rackRow(name),
            stroke: "var(--c2)",
            strokeOpacity: 0.7,
            insetTop: 4,
            insetBottom: 4,
            title: ({square, massG}: FreeShaft) => `${square}: ${shown(massG, "g")}`
          }),
          Plot.ruleY(asked, {
            x1: ({lowG}: Asked) => lowG ?? low,
            x2: ({highG}: Asked) => highG ?? high,
            y: "order",
            stroke: "var(--c0)",
            strokeWidth: 7,
            strokeOpacity: 0.45,
            title: ({order, lowG, highG}: Asked) =>
              `${order}: ${lowG === undefined ? "any" : shown(lowG, "g")} to ${highG === undefined ? "any" : shown(highG, "g")}`
          }),
          Plot.dot(
            asked.filter(({massG}) => massG !== undefined),
            {
              x: "massG",
              y: "order",
              r: 4.5,
              fill: "var(--c1)",
              title: ({order, square, massG, fitting}: Asked) =>
                `${square} for ${order}: ${shown(massG, "g")}; ${fitting} fit`
            }
          )
        ]
      };
    }
  };
}
