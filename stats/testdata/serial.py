# Tails of von Neumann's ratio and of the lag-1 autocorrelation for independent normal
# values, by Imhof's real integral with mpmath: another inversion than the package's,
# and for the autocorrelation another way to the eigenvalues.
#
#     python3 stats/testdata/serial.py     (needs mpmath)
import mpmath as mp
mp.mp.dps=30
def tail(lam,r):  # P(sum(lam-r)z^2>0) Imhof
    mu=[l-r for l in lam]
    f=lambda u: mp.sin(sum(mp.atan(m*u) for m in mu)/2)/(u*mp.fprod((1+m*m*u*u)**mp.mpf(.25) for m in mu))
    return mp.mpf(1)/2+mp.quad(f,[0,.5,1,2,4,8,16,64,256,4096,1e5,mp.inf])/mp.pi
def vn(n): return [4*mp.sin(mp.pi*k/(2*n))**2 for k in range(1,n)]
def l1(n):
    A=mp.matrix(n,n)
    for i in range(n-1): A[i,i+1]=A[i+1,i]=mp.mpf(.5)
    M=mp.eye(n)-mp.ones(n)/n
    E=mp.eigsy(M*A*M,eigvals_only=True)
    E=sorted(E,key=lambda e:abs(e)); return E[1:]  # drops the zero of the mean
if __name__=="__main__":
    for n,r in [(5,.8),(10,1.0),(10,.35),(20,2.6),(20,1.0)]:
        print(n,r,mp.nstr(1-tail(vn(n),mp.mpf(r)),15),mp.nstr(tail(vn(n),mp.mpf(r)),15))
    for n,r in [(4,.1),(10,.4),(20,.5),(12,-.6)]:
        print(n,r,mp.nstr(1-tail(l1(n),mp.mpf(r)),15),mp.nstr(tail(l1(n),mp.mpf(r)),15))
