// The best line by a general graph library: Dijkstra's search over the lattice written out as a layered graph.
import { DirectedGraph } from 'graphology';
import { astar } from 'graphology-shortest-path';
import { pathCost, type Lattice } from '../../src/pipeline/4-solver';
import { doorLayers, pathOfNodes, type Layers } from './layers';

export interface GraphAnswer {
  readonly cost: number;
  readonly path: Int32Array;
  readonly nodes: number;
  /** Arcs that the search looked at. */
  readonly arcs: number;
}

/** Layer of each node, counted from the source: every arc leads one layer on. */
function layersOfNodes(layers: Layers): Int32Array {
  const layer = new Int32Array(layers.nodeCount).fill(-1);
  let current = [layers.source];
  layer[layers.source] = 0;
  for (let depth = 1; current.length > 0; depth++) {
    const following: number[] = [];
    for (const node of current) {
      layers.forEachArc(node, (to) => {
        if (layer[to]! >= 0) return;
        layer[to] = depth;
        following.push(to);
      });
    }
    current = following;
  }
  return layer;
}

/** Least cost of an arc out of each layer: taken off all of them, what is left is not negative and Dijkstra applies. */
function floors(layers: Layers, layer: Int32Array): number[] {
  const lowest: number[] = [];
  layer.forEach((depth, node) => {
    if (depth >= 0)
      layers.forEachArc(node, (_, cost) => (lowest[depth] = Math.min(lowest[depth] ?? cost, cost)));
  });
  return lowest;
}

type ArcCallback = (
  edge: string,
  attributes: { weight: number },
  source: string,
  target: string,
) => void;

/** A graph of the library whose arcs are listed when they are asked for: a chart has millions, too many to keep. */
class ListedGraph extends DirectedGraph {
  arcs = 0;
  readonly #layers: Layers;
  readonly #layer: Int32Array;
  readonly #floors: readonly number[];

  constructor(layers: Layers) {
    super();
    this.#layers = layers;
    this.#layer = layersOfNodes(layers);
    this.#floors = floors(layers, this.#layer);
  }

  override hasNode(node: unknown): boolean {
    return Number(node) >= 0 && Number(node) < this.#layers.nodeCount;
  }

  override forEachOutboundEdge(node: unknown, ...rest: readonly unknown[]): void {
    const visit = rest.at(-1) as ArcCallback;
    const from = String(node);
    const floor = this.#floors[this.#layer[Number(node)]!]!;
    this.#layers.forEachArc(Number(node), (to, cost) => {
      this.arcs++;
      visit('', { weight: cost - floor }, from, String(to));
    });
  }
}

/** Null when every path is blocked. */
export function solveByGraph(
  lattice: Lattice,
  write: (lattice: Lattice) => Layers = doorLayers,
): GraphAnswer | null {
  const layers = write(lattice);
  const graph = new ListedGraph(layers);
  // Without an estimate of the way ahead this search is Dijkstra's.
  const nodes = astar.bidirectional(graph, String(layers.source), String(layers.target), 'weight');
  if (!nodes) return null;
  const path = pathOfNodes(layers, nodes.map(Number), lattice.slots.length);
  return { cost: pathCost(lattice, path), path, nodes: layers.nodeCount, arcs: graph.arcs };
}
