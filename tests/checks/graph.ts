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

/** By node: an arc costs what it costs less the number of the node it leaves, and more by that of the node it enters. */
type Potential = (node: number) => number;

/**
 * No node is ahead of another but by the least cost of an arc between its layer and the next. Every arc leads one layer on,
 * so all paths are lowered alike, and what is left is not negative: Dijkstra's search applies, as it stands.
 */
const plainPotential = (layers: Layers): Potential => {
  const floors = floorOfNodes(layers);
  return (node) => floors[node]!;
};

/**
 * What the way on costs at least (Johnson 1977, J. ACM 24; the same as Dijkstra's search with an estimate: Hart, Nilsson &
 * Raphael 1968, IEEE Trans. Systems Science and Cybernetics 4). All paths are lowered alike and no arc is negative, as long
 * as the bound is one; if it were not, the search would come back with a longer path.
 */
const guidedPotential =
  (layers: Layers): Potential =>
  (node) =>
    layers.aheadOf(node);

/** By node: the least costs of an arc of its layer and of all layers after it. */
function floorOfNodes(layers: Layers): Float64Array {
  const floorOf = new Float64Array(layers.nodeCount);
  const reached = new Uint8Array(layers.nodeCount);
  const layerOf: number[][] = [];
  const floors: number[] = [];
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
    layerOf.push(current);
    floors.push(Number.isFinite(floor) ? floor : 0);
    current = following;
  }
  let ahead = 0;
  for (let layer = floors.length - 1; layer >= 0; layer--) {
    ahead += floors[layer]!;
    for (const node of layerOf[layer]!) floorOf[node] = ahead;
  }
  return floorOf;
}

type ArcCallback = (edge: string, attributes: { weight: number }, source: string, target: string) => void;

/** A graph of the library whose arcs are listed when they are asked for: a chart has millions, too many to keep. */
class ListedGraph extends DirectedGraph {
  arcs = 0;
  readonly #layers: Layers;
  readonly #potential: Potential;

  constructor(layers: Layers, potential: Potential) {
    super();
    this.#layers = layers;
    this.#potential = potential;
  }

  override hasNode(node: unknown): boolean {
    return Number(node) >= 0 && Number(node) < this.#layers.nodeCount;
  }

  override forEachOutboundEdge(node: unknown, ...rest: readonly unknown[]): void {
    const visit = rest.at(-1) as ArcCallback;
    const from = String(node);
    const lowered = this.#potential(Number(node));
    this.#layers.forEachArc(Number(node), (to, cost) => {
      const raised = this.#potential(to);
      if (raised === Infinity) return;
      this.arcs++;
      visit('', { weight: cost - lowered + raised }, from, String(to));
    });
  }
}

/** Null when every path is blocked. @param isGuided looks first where the way on may cost least: the same answer sooner */
export function solveByGraph(
  lattice: Lattice,
  write: (lattice: Lattice) => Layers = doorLayers,
  isGuided = false,
): GraphAnswer | null {
  const layers = write(lattice);
  const graph = new ListedGraph(layers, (isGuided ? guidedPotential : plainPotential)(layers));
  // Without an estimate of the way ahead this search is Dijkstra's.
  const nodes = astar.bidirectional(graph, String(layers.source), String(layers.target), 'weight');
  if (!nodes) return null;
  const path = pathOfNodes(layers, nodes.map(Number), lattice.slots.length);
  return { cost: pathCost(lattice, path), path, nodes: layers.nodeCount, arcs: graph.arcs };
}
