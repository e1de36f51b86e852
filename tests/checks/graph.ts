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

/**
 * What each node's arcs are lowered by: the least cost of an arc between its layer and the next. Every arc leads one layer
 * on, so all paths are lowered alike, and what is left is not negative: Dijkstra's search applies.
 */
function floorOfNodes(layers: Layers): Float64Array {
  const floorOf = new Float64Array(layers.nodeCount);
  const reached = new Uint8Array(layers.nodeCount);
  let current = [layers.source];
  while (current.length > 0) {
    const following: number[] = [];
    let floor = Infinity;
    for (const node of current) {
      layers.forEachArc(node, (to, cost) => {
        floor = Math.min(floor, cost);
        if (reached[to]) return;
        reached[to] = 1;
        following.push(to);
      });
    }
    for (const node of current) floorOf[node] = floor;
    current = following;
  }
  return floorOf;
}

type ArcCallback = (edge: string, attributes: { weight: number }, source: string, target: string) => void;

/** A graph of the library whose arcs are listed when they are asked for: a chart has millions, too many to keep. */
class ListedGraph extends DirectedGraph {
  arcs = 0;
  readonly #layers: Layers;
  readonly #floorOf: Float64Array;

  constructor(layers: Layers) {
    super();
    this.#layers = layers;
    this.#floorOf = floorOfNodes(layers);
  }

  override hasNode(node: unknown): boolean {
    return Number(node) >= 0 && Number(node) < this.#layers.nodeCount;
  }

  override forEachOutboundEdge(node: unknown, ...rest: readonly unknown[]): void {
    const visit = rest.at(-1) as ArcCallback;
    const from = String(node);
    const floor = this.#floorOf[Number(node)]!;
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
