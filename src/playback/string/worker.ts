// Computes the bass in a thread of its own, so that playing and typing never wait for it.
import { StringWork, type StringAnswer, type StringAsk } from './protocol';

const post = (answer: StringAnswer): void => {
  self.postMessage(answer, { transfer: [answer.samples.buffer] });
};
const work = new StringWork(post, (then) => setTimeout(then, 0));
self.onmessage = (event: MessageEvent<StringAsk>): void => {
  work.ask(event.data);
};
