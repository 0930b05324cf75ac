export async function byTouch() {}
