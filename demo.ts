import { assessVisit } from './core/assess.ts';
import { parseVisitFile } from './core/recording/index.ts';
import { readdirSync, readFileSync } from 'node:fs';
const folder='samples/made/visits/';
const truth=JSON.parse(readFileSync('samples/made/truth.json','utf8'));
let n=0;
for(const name of readdirSync(folder).filter(f=>f.endsWith('.visit.json'))){ if(n++>=16)break;
 try{const visit=parseVisitFile(readFileSync(folder+name,'utf8'),name);
 const recordings=new Map(visit.recordings.map(({file})=>[file,new Uint8Array(readFileSync(folder+file))] as const));
 const {assessment:a,fit}=assessVisit({visitName:name,visit,recordings} as any);
 console.log(name.slice(0,22),a.verdict,a.identifiability?.verdict,a.root?.models.map(m=>m.model[0]+m.probability.toFixed(2)).join(' '),'E',a.stem&&[a.stem.modulusPa.low,a.stem.modulusPa.value,a.stem.modulusPa.high].map(v=>(v/1e9).toFixed(1)).join('/'),'misfit',fit?.misfit?.toFixed(2),'soft',a.root?.softRootChance?.toFixed(2), a.modes.length+' modes', a.findings.map(f=>f.id).join(','));
 }catch(e){console.log(name,String(e).slice(0,100))}
}
