/** stub */
export async function walkingOrder(tanks) { return tanks; }
