export { pagePapers, toPrintable, toSvg, type PageOptions, type PagePaper } from './page';
