import json,math
from collections import defaultdict
exec(open('auto.py').read().split("R=json.load")[0])
R=json.load(open('/tmp/cal1.json'))+json.load(open('/tmp/cal3.json'))
src=open('auto.py').read(); i=src.index("def Phi"); j=src.index("def run"); exec(src[i:j])
for W in [(.6,.2,.2),(.65,.2,.15),(.65,.175,.175),(.7,.15,.15)]:
    W=dict(bedded=W[0],coupled=W[1],spring=W[2]); g=defaultdict(list)
    for r in R:
        l={t:math.log(W[t])+r[t]['le'] for t in W}; mx=max(l.values()); w={t:math.exp(l[t]-mx) for t in W}; s=sum(w.values())
        comp=[(w[t]/s,r[t]['lE']['mean'],r[t]['lE']['sd']) for t in W if w[t]/s>0.02]; tt=sum(c[0] for c in comp); comp=[(a/tt,b,c) for a,b,c in comp]
        lo,me,hi=q(comp,.05),q(comp,.5),q(comp,.95); e=math.log(r['E']); g[(r['truth'],r['hardware'],r['modes'])].append((me-e,lo<=e<=hi))
    print(W)
    for t in ('bedded','coupled','spring'):
        bs=[];hs=[]
        for k,v in g.items():
            if k[0]==t: m=sorted(x[0] for x in v); bs.append(100*m[len(m)//2]); hs.append(100*sum(x[1] for x in v)/len(v))
        print('  ',t,'bias min %.1f mean %.1f max %.1f  held min %.1f mean %.1f max %.1f'%(min(bs),sum(bs)/len(bs),max(bs),min(hs),sum(hs)/len(hs),max(hs)))
