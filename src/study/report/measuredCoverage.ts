/**
 * How often 95 % intervals held in simulated studies: interval, shape, design, children, least and most
 * over the cells of the coverage grid. Not written by hand: "RENEW=1 npx vitest run
 * tests/coverage/grid/grid.test.ts" writes it from grid.json.
 */
export const measuredCoverage = `
bias|near normal|one eye|20|0.938|0.938
bias|near normal|one eye|50|0.942|0.942
bias|near normal|one eye|100|0.922|0.922
bias|near normal|one eye|200|0.938|0.938
bias|near normal|one eye|500|0.967|0.967
bias|near normal|one eye|2000|0.965|0.965
bias|near normal|two eyes|20|0.944|0.944
bias|near normal|two eyes|50|0.920|0.920
bias|near normal|two eyes|100|0.952|0.952
bias|near normal|two eyes|200|0.946|0.946
bias|near normal|two eyes|500|0.960|0.960
bias|near normal|two eyes|2000|0.965|0.965
bias|not near normal|one eye|20|0.942|0.960
bias|not near normal|one eye|50|0.932|0.952
bias|not near normal|one eye|100|0.952|0.960
bias|not near normal|one eye|200|0.950|0.952
bias|not near normal|one eye|500|0.937|0.953
bias|not near normal|one eye|2000|0.965|0.970
bias|not near normal|two eyes|20|0.944|0.956
bias|not near normal|two eyes|50|0.940|0.954
bias|not near normal|two eyes|100|0.954|0.964
bias|not near normal|two eyes|200|0.952|0.966
bias|not near normal|two eyes|500|0.963|0.983
bias|not near normal|two eyes|2000|0.935|0.955
bias|near normal|sites|0|0.937|0.953
bias|not near normal|sites|0|0.950|0.960
percentile|near normal|one eye|20|0.998|1.000
percentile|near normal|one eye|50|1.000|1.000
percentile|near normal|one eye|100|1.000|1.000
percentile|near normal|one eye|200|0.992|1.000
percentile|near normal|one eye|500|0.983|1.000
percentile|near normal|one eye|2000|0.980|1.000
percentile|near normal|two eyes|20|1.000|1.000
percentile|near normal|two eyes|50|0.998|1.000
percentile|near normal|two eyes|100|0.994|0.998
percentile|near normal|two eyes|200|0.990|1.000
percentile|near normal|two eyes|500|0.987|1.000
percentile|near normal|two eyes|2000|0.990|1.000
percentile|not near normal|one eye|20|0.988|1.000
percentile|not near normal|one eye|50|0.996|1.000
percentile|not near normal|one eye|100|0.992|1.000
percentile|not near normal|one eye|200|0.992|1.000
percentile|not near normal|one eye|500|0.987|1.000
percentile|not near normal|one eye|2000|0.990|1.000
percentile|not near normal|two eyes|20|0.984|1.000
percentile|not near normal|two eyes|50|0.990|1.000
percentile|not near normal|two eyes|100|0.990|1.000
percentile|not near normal|two eyes|200|0.990|1.000
percentile|not near normal|two eyes|500|0.993|1.000
percentile|not near normal|two eyes|2000|0.985|1.000
percentile|near normal|sites|0|0.983|1.000
percentile|not near normal|sites|0|0.993|1.000
normal|near normal|one eye|20|0.948|0.960
normal|near normal|one eye|50|0.948|0.950
normal|near normal|one eye|100|0.940|0.962
normal|near normal|one eye|200|0.948|0.950
normal|near normal|one eye|500|0.937|0.957
normal|near normal|one eye|2000|0.950|0.970
normal|near normal|two eyes|20|0.970|0.970
normal|near normal|two eyes|50|0.952|0.956
normal|near normal|two eyes|100|0.954|0.964
normal|near normal|two eyes|200|0.940|0.946
normal|near normal|two eyes|500|0.937|0.943
normal|near normal|two eyes|2000|0.930|0.940
normal|not near normal|one eye|20|0.765|0.952
normal|not near normal|one eye|50|0.686|0.960
normal|not near normal|one eye|100|0.666|0.950
normal|not near normal|one eye|200|0.666|0.958
normal|not near normal|one eye|500|0.673|0.973
normal|not near normal|one eye|2000|0.690|0.940
normal|not near normal|two eyes|20|0.836|0.986
normal|not near normal|two eyes|50|0.772|0.974
normal|not near normal|two eyes|100|0.782|0.980
normal|not near normal|two eyes|200|0.776|0.978
normal|not near normal|two eyes|500|0.787|0.967
normal|not near normal|two eyes|2000|0.760|0.960
normal|near normal|sites|0|0.903|0.947
normal|not near normal|sites|0|0.897|0.943
conditional|near normal|one eye|100|0.989|0.993
conditional|near normal|one eye|150|0.967|0.969
conditional|near normal|one eye|200|0.983|0.991
conditional|near normal|one eye|500|0.965|0.978
conditional|near normal|one eye|2000|0.954|0.961
conditional|near normal|two eyes|100|0.973|0.980
conditional|near normal|two eyes|150|0.962|0.970
conditional|near normal|two eyes|200|0.969|0.978
conditional|near normal|two eyes|500|0.960|0.968
conditional|near normal|two eyes|2000|0.955|0.963
conditional|not near normal|one eye|100|0.978|0.995
conditional|not near normal|one eye|150|0.963|0.971
conditional|not near normal|one eye|200|0.973|0.988
conditional|not near normal|one eye|500|0.963|0.981
conditional|not near normal|one eye|2000|0.948|0.965
conditional|not near normal|two eyes|100|0.970|0.979
conditional|not near normal|two eyes|150|0.959|0.976
conditional|not near normal|two eyes|200|0.963|0.976
conditional|not near normal|two eyes|500|0.958|0.969
conditional|not near normal|two eyes|2000|0.950|0.964
conditional|near normal|sites|0|0.943|0.966
conditional|not near normal|sites|0|0.950|0.978
bent|near normal|one eye|100|0.978|0.983
bent|near normal|one eye|150|0.952|0.957
bent|near normal|one eye|200|0.970|0.971
bent|near normal|one eye|500|0.939|0.942
bent|near normal|one eye|2000|0.786|0.801
bent|near normal|two eyes|100|0.963|0.970
bent|near normal|two eyes|150|0.932|0.955
bent|near normal|two eyes|200|0.929|0.938
bent|near normal|two eyes|500|0.888|0.904
bent|near normal|two eyes|2000|0.659|0.695
bent|not near normal|one eye|100|0.944|0.993
bent|not near normal|one eye|150|0.920|0.970
bent|not near normal|one eye|200|0.902|0.979
bent|not near normal|one eye|500|0.799|0.968
bent|not near normal|one eye|2000|0.584|0.915
bent|not near normal|two eyes|100|0.925|0.974
bent|not near normal|two eyes|150|0.904|0.958
bent|not near normal|two eyes|200|0.882|0.956
bent|not near normal|two eyes|500|0.787|0.938
bent|not near normal|two eyes|2000|0.531|0.796
chosen|near normal|one eye|50|0.815|0.930
chosen|near normal|one eye|75|0.850|0.965
chosen|near normal|one eye|100|0.855|0.945
chosen|near normal|one eye|150|0.875|0.965
chosen|near normal|one eye|200|0.915|0.970
chosen|near normal|one eye|500|0.935|0.965
chosen|not near normal|one eye|50|0.805|0.915
chosen|not near normal|one eye|75|0.855|0.910
chosen|not near normal|one eye|100|0.860|0.945
chosen|not near normal|one eye|150|0.890|0.960
chosen|not near normal|one eye|200|0.930|0.965
chosen|not near normal|one eye|500|0.930|0.970
`;
